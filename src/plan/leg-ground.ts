import { at, last } from '../array.ts';
import { type Surface, surfacesOf } from '../capability/quantities.ts';
import type { Design } from '../design.ts';
import { rockClassValue } from '../ingest/rock-class.ts';
import type { Route } from '../route/describe-route.ts';
import type { Piece } from '../route/pieces.ts';
import { heightsAlong } from '../route/place-at.ts';
import type { Run } from '../route/runs.ts';
import { steepestOf, sustainedGrades } from '../route/steepness.ts';
import { lineGapsM } from './line-gaps.ts';

/** The ground between two distances along a route. Metres; `null`: heights are missing on part of it. */
export interface LegGround {
  readonly climbM: number | null;
  readonly dropM: number | null;
  /** Length known to lie above treeline. */
  readonly aboveTreelineM: number;
  /** Length of which it is not known, for want of a treeline or of heights. */
  readonly maybeAboveTreelineM: number;
  /** The slowest ground met, as the times count it. */
  readonly surface: Surface;
  /** Steepest grade over `SUSTAINED_M`, rise over run, below 0 going down; `null`: none so long is known. */
  readonly steepestRatio: number | null;
  /** Whether the line has a gap in the leg: it is longer than drawn, and its climb unknown. */
  readonly hasGap: boolean;
}

/** Heights count as known over a leg when no more than this is missing, metres (the ends of stations; design). */
const MISSING_M = 1;

/** Profiles part where a height is missing, and where a distance comes twice: there the line begins anew. */
function runsOf(profile: Route['profile']): Pick<Run, 'distanceM' | 'groundM' | 'spacingM'>[] {
  let open: { distanceM: number[]; groundM: number[] } = { distanceM: [], groundM: [] };
  const stretches = [open];
  for (const [atM, heightM] of profile) {
    if (heightM === null || open.distanceM.at(-1) === atM) {
      open = { distanceM: [], groundM: [] };
      stretches.push(open);
    }
    if (heightM === null) continue;
    open.distanceM.push(atM);
    open.groundM.push(heightM);
  }
  return stretches
    .filter(({ distanceM }) => distanceM.length > 1)
    .map((stretch) => {
      const { distanceM } = stretch;
      return { ...stretch, spacingM: (last(distanceM) - at(distanceM, 0)) / (distanceM.length - 1) };
    });
}

/**
 * The share of a piece's climb or drop that is done after so many metres of the route, by the heights on the way; by
 * length where they are missing. A piece may be flat first and steep then: by length alone a leg of it would be told
 * climb that it has not. Never falls along a piece whose heights are known.
 */
function heightShare(
  piece: Piece,
  profile: Route['profile'],
  heightAt: (atM: number) => number | null,
  atM: number,
): number {
  if (atM <= piece.fromM) return 0;
  if (atM >= piece.toM) return 1;
  const riseM = piece.climbM - piece.dropM;
  const hereM = heightAt(atM);
  if (hereM === null || riseM === 0) return (atM - piece.fromM) / (piece.toM - piece.fromM);
  const startM = piece.elevationM - riseM / 2;
  let done = (hereM - startM) / riseM;
  for (const [stationM, heightM] of profile) {
    if (stationM > atM) break;
    if (stationM >= piece.fromM && heightM !== null) done = Math.max(done, (heightM - startM) / riseM);
  }
  return Math.min(1, Math.max(0, done));
}

/**
 * Answers what is known of the ground between two distances along a route, metres, the first below the second. Of a
 * piece that lies partly in a leg the climb counts by the heights where it is cut, so that the legs of a route add up
 * to its gain.
 */
export function legGroundsOf(
  route: Pick<Route, 'line' | 'pieces' | 'profile' | 'attributes'>,
  design: Design,
): (fromM: number, toM: number) => LegGround {
  const { attributes, profile } = route;
  const gapsM = lineGapsM(route);
  const grades = sustainedGrades(runsOf(profile), design.gain.windowM);
  const heightAt = heightsAlong(profile);
  const times = design.pace.surface;
  const surfaceOf = surfacesOf(attributes);
  return (fromM, toM) => {
    let knownM = 0;
    let climbM = 0;
    let dropM = 0;
    let aboveTreelineM = 0;
    let belowTreelineM = 0;
    let surface: Surface = attributes.surface ?? 'trail';
    const meet = (met: Surface): void => {
      if (times[met].time > times[surface].time) surface = met;
    };
    for (const piece of route.pieces) {
      const insideM = Math.min(toM, piece.toM) - Math.max(fromM, piece.fromM);
      if (insideM <= 0) continue;
      const share = Math.max(
        0,
        heightShare(piece, profile, heightAt, toM) - heightShare(piece, profile, heightAt, fromM),
      );
      knownM += insideM;
      climbM += piece.climbM * share;
      dropM += piece.dropM * share;
      if (piece.aboveTreeline === true) aboveTreelineM += insideM;
      if (piece.aboveTreeline === false) belowTreelineM += insideM;
      meet(surfaceOf(piece));
    }
    const isKnown = toM - fromM - knownM <= MISSING_M;
    // Ground of which nothing is known may be what the class says.
    if (!isKnown && attributes.surface == null && rockClassValue(attributes.rockClass ?? '1') > 1)
      meet('rough');
    const maybeM = toM - fromM - aboveTreelineM - belowTreelineM;
    // The place at the distance of a gap is the one behind it.
    const hasGap = gapsM.some((gapM) => gapM > fromM && gapM <= toM);
    return {
      climbM: isKnown && !hasGap ? climbM : null,
      dropM: isKnown && !hasGap ? dropM : null,
      aboveTreelineM,
      maybeAboveTreelineM: maybeM <= MISSING_M ? 0 : maybeM,
      surface,
      steepestRatio:
        steepestOf(grades.filter(({ middleM }) => middleM >= fromM && middleM <= toM))?.ratio ?? null,
      hasGap,
    };
  };
}
