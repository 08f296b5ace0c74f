import { greatestBy } from '../array.ts';
import type { Design } from '../design.ts';
import { azimuthDeg, geodesicM, type Place } from '../earth/geodesic.ts';
import type { Waypoint } from '../ingest/track.ts';
import type { Route } from './describe-route.ts';
import { heightsAlong, type LinePoints, linePointsOf, passesOf, placeAt } from './place-at.ts';

/** The five that every route has, as far as they apply to it. */
export type MainKind = 'trailhead' | 'treelineUp' | 'high' | 'treelineDown' | 'end';
/** `waypoint`: named in the file; `bend`, `shoulder`, `onTheWay`: chosen from the line and the ground. */
export type CheckpointKind = MainKind | 'waypoint' | 'bend' | 'shoulder' | 'onTheWay';

/** A place along a route at which a leader looks at the watch. Metres; `null` is "not known". */
export interface RoutePlace extends Place {
  readonly kind: CheckpointKind;
  /** As in the file; empty where it has none: words come from kind and height. */
  readonly name: string;
  readonly distanceM: number;
  readonly elevationM: number | null;
  /** Up to and at the high point. */
  readonly goingUp: boolean;
  readonly aboveTreeline: boolean | null;
}

export interface MainPlace extends Pick<RoutePlace, 'distanceM' | 'elevationM'> {
  readonly kind: MainKind;
}

/** Trailhead, treeline going up, high point, below treeline for good, end: what ranking looks at. */
export function mainPlacesOf(route: Route): MainPlace[] {
  const { pieces, high, measures, treeline } = route;
  const above = pieces.filter((piece) => piece.aboveTreeline === true);
  const first = above[0];
  const last = above.at(-1);
  const length = measures.distanceM;
  const endsAbove = last !== undefined && last.toM >= (pieces.at(-1)?.toM ?? length);
  const places: MainPlace[] = [{ kind: 'trailhead', distanceM: 0, elevationM: route.trailhead.elevationM }];
  if (first !== undefined)
    places.push({ kind: 'treelineUp', distanceM: first.fromM, elevationM: treeline.treelineM });
  if (high !== null) places.push({ kind: 'high', distanceM: high.distanceM, elevationM: high.elevationM });
  if (last !== undefined) {
    places.push({
      kind: 'treelineDown',
      distanceM: endsAbove ? length : last.toM,
      elevationM: endsAbove ? route.end.elevationM : treeline.treelineM,
    });
  }
  places.push({ kind: 'end', distanceM: length, elevationM: route.end.elevationM });
  return places;
}

type Settings = Design['checkpoints'];

interface Candidate extends Pick<RoutePlace, 'kind' | 'name' | 'distanceM'> {
  /** How much it stands out: the better is chosen first. */
  readonly strength: number;
}

type HeightAt = (atM: number) => number | null;

/** Where the line passes the places given, both ways on an out and back, in the order of the file. */
function passed(places: readonly Waypoint[], line: LinePoints, settings: Settings): Candidate[] {
  return places.flatMap((place) =>
    passesOf(line, place, settings.snapM, settings.apartM).map(({ atM, offM }) => ({
      kind: 'waypoint' as const,
      name: place.name?.trim() ?? '',
      distanceM: atM,
      strength: -offM,
    })),
  );
}

/** Smallest angle between two bearings, degrees. */
const between = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);

/** A way winds where its ends are nearer to each other than this share of its length (design; a right angle has 0.71). */
const STRAIGHT_SHARE = 0.75;

/** Whether a climb eases here, or a descent steepens: the edge of a step in the ground. */
const isShoulder = (before: number, after: number, steepRatio: number): boolean =>
  (before >= steepRatio && after <= before / 3) || (after <= -steepRatio && before >= after / 3);

/** Bends that stand alone, and shoulders, between two distances. */
function chosenFrom(
  line: LinePoints,
  heightAt: HeightAt,
  fromM: number,
  toM: number,
  settings: Settings,
): Candidate[] {
  const { reachM, stepM } = settings;
  const shoulders: Candidate[] = [];
  const bends: Candidate[] = [];
  for (let atM = fromM + reachM; atM <= toM - reachM; atM += stepM) {
    const here = placeAt(line, atM);
    const turnedDeg = between(
      azimuthDeg(placeAt(line, atM - reachM), here),
      azimuthDeg(here, placeAt(line, atM + reachM)),
    );
    if (turnedDeg >= settings.bendDeg) {
      const last = bends.at(-1);
      const bend = { kind: 'bend' as const, name: '', distanceM: atM, strength: turnedDeg / 90 };
      if (last === undefined || atM - last.distanceM > reachM) bends.push(bend);
      else if (turnedDeg / 90 > last.strength) bends[bends.length - 1] = bend;
    }
    const behind = heightAt(atM - 2 * reachM);
    const height = heightAt(atM);
    const ahead = heightAt(atM + 2 * reachM);
    if (behind === null || height === null || ahead === null) continue;
    const before = (height - behind) / (2 * reachM);
    const after = (ahead - height) / (2 * reachM);
    if (!isShoulder(before, after, settings.steepRatio)) continue;
    shoulders.push({ kind: 'shoulder', name: '', distanceM: atM, strength: Math.abs(before - after) * 4 });
  }
  const winds = (aM: number, bM: number): boolean =>
    geodesicM(placeAt(line, aM), placeAt(line, bM)) < STRAIGHT_SHARE * Math.abs(bM - aM);
  // A row of bends is a path that winds, not a place to know again. The turns of a tight row melt into one another:
  // it shows by how little way it makes.
  const alone = bends.filter(
    (bend) =>
      !bends.some(
        (other) => other !== bend && Math.abs(other.distanceM - bend.distanceM) < settings.seriesM,
      ) &&
      !winds(Math.max(fromM, bend.distanceM - settings.seriesM), bend.distanceM) &&
      !winds(bend.distanceM, Math.min(toM, bend.distanceM + settings.seriesM)),
  );
  return [...shoulders, ...alone];
}

/**
 * Places to look at the watch where a way is long or climbs far with nothing on it: parts of even climb, or of even
 * length where it hardly climbs.
 */
function evenParts(heightAt: HeightAt, fromM: number, toM: number, settings: Settings): Candidate[] {
  const low = heightAt(fromM);
  const top = heightAt(toM);
  const climbM = low === null || top === null ? 0 : Math.abs(top - low);
  const parts = Math.ceil(Math.max((toM - fromM) / settings.longWayM, climbM / settings.longClimbM));
  const byClimb = climbM / settings.longClimbM >= (toM - fromM) / settings.longWayM;
  return Array.from({ length: Math.max(0, parts - 1) }, (_, i) => {
    const share = (i + 1) / parts;
    let atM = fromM + (toM - fromM) * share;
    if (byClimb && low !== null && top !== null) {
      const wanted = low + (top - low) * share;
      for (let m = fromM; m <= toM; m += settings.stepM) {
        const height = heightAt(m);
        if (height !== null && (top >= low ? height >= wanted : height <= wanted)) {
          atM = m;
          break;
        }
      }
    }
    return { kind: 'onTheWay' as const, name: '', distanceM: atM, strength: 0 };
  });
}

type At = Pick<RoutePlace, 'distanceM'>;

const isFree = (atM: number, taken: readonly At[], apartM: number): boolean =>
  taken.every(({ distanceM }) => Math.abs(distanceM - atM) >= apartM);

/** The strongest candidates that lie far enough from each other and from what is taken. */
function strongest(
  candidates: readonly Candidate[],
  taken: readonly At[],
  most: number,
  apartM: number,
): Candidate[] {
  const chosen: Candidate[] = [];
  const byStrength = [...candidates].sort((a, b) => b.strength - a.strength || a.distanceM - b.distanceM);
  for (const candidate of byStrength) {
    if (chosen.length >= most) break;
    if (isFree(candidate.distanceM, [...taken, ...chosen], apartM)) chosen.push(candidate);
  }
  return chosen;
}

/** Whether a place lies above treeline; `null`: not known. On the line between two pieces the higher ground counts. */
function sideAt({ pieces }: Route, atM: number): boolean | null {
  const sides = pieces
    .filter(({ fromM, toM }) => atM >= fromM && atM <= toM)
    .map(({ aboveTreeline }) => aboveTreeline);
  return sides.includes(true) ? true : sides.length === 0 || sides.includes(null) ? null : false;
}

/**
 * The checkpoints of a route in the order they are walked: the main ones, the file's own places, and, where the file
 * names fewer than two on the way up, places chosen from the line: bends, shoulders, and parts of a long way on which
 * nothing stands out. On an out and back what was chosen on the way out is met again on the way back.
 */
export function checkpointsOf(route: Route, settings: Settings): RoutePlace[] {
  const line = linePointsOf(route);
  const heightAt = heightsAlong(route.profile);
  const lengthM = route.measures.distanceM;
  const main = mainPlacesOf(route);
  const isOutAndBack = route.measures.shape === 'outAndBack';
  const highM = route.high?.distanceM ?? (isOutAndBack ? lengthM / 2 : lengthM);
  const marks = passed(route.waypoints, line, settings);
  const waterPoints = (route.attributes.waterPoints ?? []).map(({ name = null, lat, lon }) => {
    return { name, latDeg: lat, lonDeg: lon };
  });
  const water = passed(waterPoints, line, settings).filter(({ name }) => name !== '');

  // A name in the file for the start, the top or the end is theirs: the nearest of them.
  const nameAt = (atM: number): string => {
    const offM = ({ distanceM }: At): number => Math.abs(distanceM - atM);
    const near = marks.filter((mark) => mark.name !== '' && offM(mark) <= settings.ownNameM);
    return greatestBy(near, (mark) => -offM(mark))?.name ?? '';
  };
  const startName = route.attributes.trailhead?.name ?? nameAt(0);
  const named: Candidate[] = [];
  for (const place of [...marks, ...water]) {
    if (named.length >= settings.mostNamed) break;
    if (isFree(place.distanceM, [...main, ...named], settings.apartM)) named.push(place);
  }

  const chosen: Candidate[] = [];
  const taken = (): At[] => [...main, ...named, ...chosen];
  const choose = (fromM: number, toM: number, most: number): void => {
    const found = chosenFrom(line, heightAt, fromM, toM, settings);
    chosen.push(...strongest(found, taken(), most, settings.chosenApartM));
    const stops = [fromM, ...taken().map(({ distanceM }) => distanceM), toM]
      .filter((atM) => atM >= fromM && atM <= toM)
      .sort((a, b) => a - b);
    stops.slice(1).forEach((nextM, i) => {
      for (const part of evenParts(heightAt, stops[i] ?? fromM, nextM, settings)) {
        if (isFree(part.distanceM, taken(), settings.apartM)) chosen.push(part);
      }
    });
  };
  // Where heights are missing the line has holes: what stands out in it may be one.
  if (!route.heightsMissing && route.high !== null) {
    const namesFew = (fromM: number, toM: number): boolean =>
      named.filter(({ distanceM }) => distanceM > fromM && distanceM < toM).length < 2;
    if (namesFew(0, highM)) choose(0, highM, settings.most);
    // Beyond the top: another way down, or on an out and back the rest of the way to where it turns.
    const ontoM = isOutAndBack ? Math.max(highM, lengthM / 2) : lengthM;
    if (namesFew(highM, ontoM)) choose(highM, ontoM, Math.ceil(settings.most / 2));
    if (isOutAndBack) {
      for (const place of [...chosen]) {
        const passes = passesOf(line, placeAt(line, place.distanceM), settings.snapM, settings.apartM);
        const later = passes.filter(({ atM }) => atM > highM && atM - place.distanceM >= settings.apartM);
        const back = greatestBy(later, ({ offM }) => -offM);
        if (back !== null && isFree(back.atM, taken(), settings.apartM)) {
          chosen.push({ ...place, distanceM: back.atM });
        }
      }
    }
  }

  const mainName = (kind: MainKind, atM: number): string => {
    if (kind === 'treelineUp' || kind === 'treelineDown') return '';
    const isStart = kind === 'trailhead' || (kind === 'end' && route.measures.shape !== 'oneWay');
    return isStart ? startName : nameAt(atM);
  };
  const order = (kind: CheckpointKind): number => main.findIndex((place) => place.kind === kind);
  return [
    ...main.map((place) => ({ ...place, name: mainName(place.kind, place.distanceM) })),
    ...[...named, ...chosen].map(({ kind, name, distanceM }) => ({
      kind,
      name,
      distanceM,
      elevationM: heightAt(distanceM),
    })),
  ]
    .sort((a, b) => a.distanceM - b.distanceM || order(a.kind) - order(b.kind))
    .map((place) => ({
      ...place,
      ...placeAt(line, place.distanceM),
      goingUp: place.distanceM <= highM,
      aboveTreeline: sideAt(route, place.distanceM),
    }));
}
