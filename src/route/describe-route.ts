import { at, greatestBy, last } from '../array.ts';
import type { Design } from '../design.ts';
import type { Place } from '../earth/geodesic.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import type { Waypoint } from '../ingest/track.ts';
import { type Note, noteIf } from '../notes.ts';
import type { ElevatedTrack, TrackSource } from '../terrain/elevated-track.ts';
import type { TileInfo } from '../terrain/surface.ts';
import { type Band, type GainMethod, gainAndLoss, reversal } from './gain.ts';
import { heightNoise } from './height-noise.ts';
import { type Piece, piecesOf } from './pieces.ts';
import { type RecordedGain, recordedGain } from './recorded-gain.ts';
import { type Run, runsOf } from './runs.ts';
import { type Shape, shapeOf } from './shape.ts';
import { type SteepGround, steepGroundOf } from './steep-ground.ts';
import { steepestOf, sustainedGrades } from './steepness.ts';
import type { Reversal } from './trace.ts';
import {
  latitudeTreelineM,
  mostTreelineM,
  openFrom,
  type Treeline,
  type TreelineSource,
  treelineFor,
} from './treeline.ts';
import { beginsAtTop, endsAtTop, withWayBack } from './way-back.ts';

/** What the terrain says of a route. Metres and minutes; `null` is "not known". */
export interface RouteMeasures {
  readonly distanceM: number;
  readonly gainM: Band | null;
  readonly lossM: Band | null;
  readonly highM: number | null;
  readonly lowM: number | null;
  readonly shape: Shape;
  readonly aboveTreelineM: number | null;
  /** By the trade rule, so that it does not depend on a cohort. */
  readonly aboveTreelineMin: number | null;
  /** With treeline unknown: least and greatest length above it over the believable heights of treeline. */
  readonly aboveTreelineRangeM: Interval | null;
  readonly aboveTreelineRangeMin: Interval | null;
  readonly treelineM: number | null;
  readonly treelineSource: TreelineSource;
  /** Steepest 200 m of the line, rise over run. */
  readonly steepestSustainedRatio: number | null;
  /** Where it begins, metres along the route. */
  readonly steepestSustainedFromM: number | null;
  /** Steepness of the ground on, beside and above the line; `null`: not known. */
  readonly steepGround: SteepGround | null;
  /** Climb of the heights that the file itself has, beside ours: it decides nothing. `null`: it has none, or too few. */
  readonly recorded: RecordedGain | null;
  readonly demCoverage: number;
  /** In words where an older program measured the route. */
  readonly gainMethod: GainMethod | string;
}

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** A route measured: everything that later stages need of it, as plain data. */
export interface Route {
  readonly name: string;
  readonly attributes: RouteAttributes;
  readonly measures: RouteMeasures;
  readonly treeline: Treeline;
  readonly trailhead: Place & { readonly elevationM: number | null };
  readonly end: Place & { readonly elevationM: number | null };
  readonly high: (Place & { readonly distanceM: number; readonly elevationM: number }) | null;
  /** Whether the line has a gap, or a stretch over the bridging length has no height: verdicts on height cannot be given. */
  readonly heightsMissing: boolean;
  /** `[distance along the route, height of the ground or null]`, metres. */
  readonly profile: readonly (readonly [number, number | null])[];
  readonly pieces: readonly Piece[];
  /** The line, segments of `[lon, lat]`, for maps and GPX. */
  readonly line: readonly (readonly (readonly [number, number])[])[];
  readonly waypoints: readonly Waypoint[];
  /** The tiles that gave the heights, and where along the route each did. */
  readonly sources: readonly RouteSource[];
  readonly notes: readonly Note[];
}

/** What one tile gave of a route. */
type RouteSource = Omit<TrackSource, 'tile'> &
  Pick<TileInfo, 'path' | 'version' | 'attribution'> &
  // What an earlier version stored does not say these, until it is measured again.
  Partial<Pick<TileInfo, 'postingM' | 'dateMs'>>;

/** Codes of the notes that measuring itself writes; the others come from the file and cannot be found out again. */
export const MEASURING_NOTES: ReadonlySet<string> = new Set([
  'way-back-assumed',
  'ends-at-top',
  'begins-at-top',
  'no-coverage',
  'partial-coverage',
  'treeline-unknown',
  'treeline-doubtful',
  'treeline-impossible',
  'gain-uncertain',
]);

export interface DescribeOptions {
  readonly attributes?: RouteAttributes;
  /** Add the way back to a line that ends at its top; `false` measures the line as drawn. */
  readonly addWayBack?: boolean;
}

/** A stated treeline this far above the latitude rule is asked about; published ones reach 665 m above (sources.md §6). */
const TREELINE_DOUBT_M = 1000;

/** Length and minutes above a height of treeline. */
function exposedAbove(treelineM: number, runs: readonly Run[], counted: Reversal, design: Design) {
  let lengthM = 0;
  let climbM = 0;
  const range = { low: treelineM, high: treelineM };
  for (const piece of piecesOf(runs, counted, design.gain.windowM, treelineM, range)) {
    if (piece.aboveTreeline !== true) continue;
    lengthM += piece.horizontalM;
    climbM += piece.climbM;
  }
  const { minPerKm, minPerClimbM } = design.tradeRule;
  return { lengthM, minutes: (lengthM / 1000) * minPerKm + climbM * minPerClimbM };
}

/** The highest point of the runs, the first of equal ones, and the lowest height; `null` without any. */
function extremesOf(runs: readonly Run[]) {
  const points = runs.flatMap(({ lonDeg, latDeg, groundM, distanceM }) =>
    groundM.map((elevationM, i) => {
      return { lonDeg: at(lonDeg, i), latDeg: at(latDeg, i), elevationM, distanceM: at(distanceM, i) };
    }),
  );
  const lowest = greatestBy(points, ({ elevationM }) => -elevationM);
  return { high: greatestBy(points, ({ elevationM }) => elevationM), lowM: lowest?.elevationM ?? null };
}

/** Length of a line whose heights are known, metres. */
const knownLengthM = (runs: readonly Run[]): number =>
  runs.reduce((sum, run) => sum + last(run.distanceM) - at(run.distanceM, 0), 0);

/** What is to be said of the treeline that counts: doubtful where it lies far above the latitude rule, or not known. */
function treelineNotes(
  { treelineM, rangeM }: Route['treeline'],
  statedM: number | null,
  latDeg: number,
  isUnknown: boolean,
): Note[] {
  const ruleM = latitudeTreelineM(latDeg);
  const mostM = mostTreelineM(latDeg);
  if (statedM !== null && statedM > mostM) {
    return [{ code: 'treeline-impossible', values: { treelineM: statedM, mostM } }];
  }
  if (treelineM !== null && (treelineM > ruleM + TREELINE_DOUBT_M || treelineM < 0)) {
    return [{ code: 'treeline-doubtful', values: { treelineM, ruleM } }];
  }
  return isUnknown ? [{ code: 'treeline-unknown', values: { lowM: rangeM.low, highM: rangeM.high } }] : [];
}

/**
 * Measures a track that lies on the terrain: distance, gain and loss as bands, highest point, shape, length and
 * minutes above treeline. Pure; heights missing under the line give `null` measures or a note, never a guess.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one measure after another, each made of those before
export function describeRoute(given: ElevatedTrack, design: Design, options: DescribeOptions = {}): Route {
  const givenRuns = runsOf(given, design.gain.bridgeM);
  const givenShape = shapeOf(given.segments);
  // What lies in a gap of the line was not drawn: its climb is as unknown as that of a void.
  const hasGap = given.segments.length > 1;
  const heightsMissing = hasGap || given.lengthM - knownLengthM(givenRuns) > 1;
  // Where heights are not known a line may end far from its top.
  const wayUpOnly = givenShape === 'oneWay' && !heightsMissing && endsAtTop(givenRuns);
  const doubled = wayUpOnly && options.addWayBack !== false;
  const elevated = doubled ? withWayBack(given) : given;
  const runs = doubled ? runsOf(elevated, design.gain.bridgeM) : givenRuns;

  const attributes = options.attributes ?? elevated.track.attributes ?? {};
  const { coverage } = elevated;
  const postingM = elevated.sources.reduce((most, source) => Math.max(most, source.tile.postingM), 0);
  const noise = heightNoise(runs, design.gain.lineError);
  const counted = reversal(postingM, noise, design.gain);
  const known = runs.length > 0;
  const { gainM, lossM, method } = gainAndLoss(runs, postingM, noise, design.gain);

  const points = elevated.track.segments.flat();
  const treeline = openFrom(
    treelineFor(attributes.treelineM ?? null, points, design.treeline),
    attributes.openAboveM ?? null,
  );
  const pieces = piecesOf(runs, counted, design.gain.windowM, treeline.treelineM, treeline.rangeM);

  const { high: summit, lowM } = extremesOf(runs);

  const stations = elevated.segments.flatMap((segment) =>
    segment.groundM.map((groundM, i) => [at(segment.distanceM, i), groundM] as const),
  );

  const { treelineM } = treeline;
  const isLow =
    treelineM === null && summit !== null && !heightsMissing && summit.elevationM <= treeline.rangeM.low;
  const exposed = (heightM: number) => exposedAbove(heightM, runs, counted, design);
  const aboveKnown = treelineM !== null ? exposed(treelineM) : isLow ? { lengthM: 0, minutes: 0 } : null;
  const above = heightsMissing ? null : aboveKnown;
  const { low, high } = treeline.rangeM;
  const range = treelineM === null && known && !isLow ? { least: exposed(high), most: exposed(low) } : null;

  const steepGround = steepGroundOf(elevated.segments, postingM, design);
  const sustained = steepestOf(sustainedGrades(runs, design.gain.windowM));

  const placeOf = ({ lonDeg, latDeg }: Place, [, elevationM]: Route['profile'][number]) => {
    return { lonDeg, latDeg, elevationM };
  };

  const isUncertain = known && gainM.value > 0 && (gainM.high - gainM.low) / gainM.value > 0.3;
  const notes: Note[] = [
    ...elevated.track.notes,
    ...noteIf(wayUpOnly && !doubled, { code: 'ends-at-top', values: {} }),
    ...noteIf(givenShape === 'oneWay' && beginsAtTop(givenRuns, gainM.value), {
      code: 'begins-at-top',
      values: {},
    }),
    ...noteIf(coverage === 0, { code: 'no-coverage', values: {} }),
    ...noteIf(coverage > 0 && coverage < 1, {
      code: 'partial-coverage',
      values: { share: coverage, heightsMissing },
    }),
    ...treelineNotes(treeline, attributes.treelineM ?? null, at(points, 0).latDeg, range !== null),
    ...noteIf(isUncertain, { code: 'gain-uncertain', values: {} }),
  ];

  return {
    name: attributes.name ?? elevated.track.name,
    attributes,
    measures: {
      distanceM: elevated.lengthM,
      gainM: known ? gainM : null,
      lossM: known ? lossM : null,
      highM: summit?.elevationM ?? null,
      lowM,
      shape: doubled ? 'outAndBack' : givenShape,
      aboveTreelineM: above?.lengthM ?? null,
      aboveTreelineMin: above?.minutes ?? null,
      aboveTreelineRangeM: range === null ? null : { low: range.least.lengthM, high: range.most.lengthM },
      aboveTreelineRangeMin: range === null ? null : { low: range.least.minutes, high: range.most.minutes },
      treelineM,
      treelineSource: treeline.source,
      steepestSustainedRatio: sustained === null ? null : Math.abs(sustained.ratio),
      steepestSustainedFromM: sustained?.fromM ?? null,
      steepGround,
      recorded: recordedGain(elevated.segments, design.gain),
      demCoverage: coverage,
      gainMethod: method,
    },
    treeline,
    trailhead: placeOf(at(points, 0), at(stations, 0)),
    end: placeOf(last(points), last(stations)),
    high: summit,
    heightsMissing,
    profile: stations,
    pieces,
    line: elevated.track.segments.map((segment) =>
      segment.map((point) => [point.lonDeg, point.latDeg] as const),
    ),
    waypoints: elevated.track.waypoints,
    sources: elevated.sources.map(({ tile, share, stretches }) => {
      const { path, version, postingM, dateMs, attribution } = tile;
      return { path, version, share, stretches, postingM, dateMs, attribution };
    }),
    notes,
  };
}
