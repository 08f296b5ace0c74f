import { at, median } from '../array.ts';
import type { Note } from '../notes.ts';
import { M_PER_FT } from '../units.ts';
import type { ElevatedSegment, ElevatedTrack } from './elevated-track.ts';
import { measured } from './stations.ts';

/** A recorded height beside the ground's, metres; only where both are known. */
interface Pair {
  readonly alongM: number;
  readonly recordedM: number;
  readonly groundM: number;
}

// All limits here are design: they only decide whether somebody is asked to look.
/** Farther off than any tile or any satellite receiver in working order is on a slope that can be walked. */
const WILD_M = 100;
/** Relief that a slope of recorded on ground needs to mean anything. */
const LEAST_RELIEF_M = 50;
const FEET_SLOPE = 1 / M_PER_FT;
const FEET_TOLERANCE = 0.12;
const SLOPE_ONE_TOLERANCE = 0.1;
/** Geoid minus ellipsoid lies between 10 and 60 m, up or down, at most mountains (EGM96: Mt Washington −27.5, Mont Blanc +51.5). */
const GEOID_LEAST_M = 10;
const GEOID_MOST_M = 60;
/** Spread, as a share of the offset, up to which an offset is "the same everywhere". */
const STEADY_SHARE = 1 / 3;
const FEWEST_PAIRS = 10;
const MOST_PAIRS_IN_SLOPE = 200;

/**
 * What looks wrong with the heights written in a file, measured against the ground; nothing is converted.
 *
 * `ele-looks-like-feet`, `ele-looks-ellipsoidal` and `ele-suspect` (zeros, jumps, or far off throughout).
 * Empty where the file has no heights or nothing stands out.
 */
export function recordedHeightNotes(elevated: ElevatedTrack): Note[] {
  const recorded = elevated.track.segments.flat().flatMap((p) => (p.elevationM === null ? [] : p.elevationM));
  const pairs = pairsOf(elevated);
  if (recorded.length > 1 && recorded.every((heightM) => heightM === 0))
    return pairs.length > 0 && pairs.every(({ groundM }) => Math.abs(groundM) <= 10)
      ? []
      : [{ code: 'ele-suspect', values: { found: 'allZero' } }];

  const inUse = pairs.filter((pair) => !(pair.recordedM === 0 && isWild(pair)));
  const slope = robustSlope(inUse);
  if (inUse.length >= FEWEST_PAIRS && looksLikeFeet(inUse, slope))
    return [{ code: 'ele-looks-like-feet', values: {} }];
  const notes: Note[] = [];
  const offsetM = steadyOffsetM(inUse);
  if (offsetM !== null && slope !== null && Math.abs(slope - 1) <= SLOPE_ONE_TOLERANCE)
    notes.push({ code: 'ele-looks-ellipsoidal', values: { offsetM } });
  const wild = wildNote(pairs);
  if (wild !== null) notes.push(wild);
  return notes;
}

const differenceM = (pair: Pair): number => pair.recordedM - pair.groundM;
const isWild = (pair: Pair): boolean => Math.abs(differenceM(pair)) > WILD_M;

/** Every point of the track with a recorded height and known ground: points, because a jump of one point falls between stations. */
function pairsOf({ track, segments }: ElevatedTrack): Pair[] {
  return track.segments.flatMap((points, k) => {
    const segment = segments[k];
    if (segment === undefined || points.every((point) => point.elevationM === null)) return [];
    const { alongM } = measured(points);
    const startM = at(segment.distanceM, 0);
    return points.flatMap((point, i): Pair[] => {
      const hereM = startM + at(alongM, i);
      const groundM = groundAt(segment, hereM);
      return point.elevationM === null || groundM === null
        ? []
        : [{ alongM: hereM, recordedM: point.elevationM, groundM }];
    });
  });
}

/** Ground at a distance, between two stations; `null` where one of them has none. */
function groundAt(segment: ElevatedSegment, alongM: number): number | null {
  const { distanceM, groundM } = segment;
  const steps = distanceM.length - 1;
  const startM = at(distanceM, 0);
  const lengthM = at(distanceM, steps) - startM;
  if (steps < 1 || !(lengthM > 0)) return null;
  const position = Math.min(steps, Math.max(0, ((alongM - startM) / lengthM) * steps));
  const before = Math.min(steps - 1, Math.floor(position));
  const from = groundM[before] ?? null;
  const to = groundM[before + 1] ?? null;
  return from === null || to === null ? null : from + (to - from) * (position - before);
}

/** [Theil1950], [Sen1968]: median of the slopes of all pairs of places, here of at most 200 places; `null` without relief. */
function robustSlope(pairs: readonly Pair[]): number | null {
  const every = Math.max(1, Math.ceil(pairs.length / MOST_PAIRS_IN_SLOPE));
  const some = pairs.filter((_, i) => i % every === 0);
  const slopes: number[] = [];
  some.forEach((a, i) => {
    for (const b of some.slice(i + 1)) {
      const rise = b.groundM - a.groundM;
      if (Math.abs(rise) >= LEAST_RELIEF_M) slopes.push((b.recordedM - a.recordedM) / rise);
    }
  });
  return slopes.length < FEWEST_PAIRS ? null : median(slopes);
}

function looksLikeFeet(pairs: readonly Pair[], slope: number | null): boolean {
  const isFeet = (ratio: number) => Math.abs(ratio / FEET_SLOPE - 1) <= FEET_TOLERANCE;
  if (slope !== null) return isFeet(slope);
  // On level ground the ratio of the heights themselves tells, if they are not near the sea.
  const high = pairs.filter(({ groundM }) => groundM > WILD_M);
  return high.length >= FEWEST_PAIRS && isFeet(median(high.map((pair) => pair.recordedM / pair.groundM)));
}

/** Median of recorded minus ground, metres, where it is of a geoid's size and nearly the same everywhere; else `null`. */
function steadyOffsetM(pairs: readonly Pair[]): number | null {
  if (pairs.length < FEWEST_PAIRS) return null;
  const differences = pairs.map(differenceM);
  const offsetM = median(differences);
  const sizeM = Math.abs(offsetM);
  // 1.4826 makes the median deviation a standard deviation for a normal spread.
  const spreadM = 1.4826 * median(differences.map((d) => Math.abs(d - offsetM)));
  return sizeM >= GEOID_LEAST_M && sizeM <= GEOID_MOST_M && spreadM <= sizeM * STEADY_SHARE ? offsetM : null;
}

function wildNote(pairs: readonly Pair[]): Note | null {
  const wild = pairs.filter(isWild);
  const [first] = wild;
  if (first === undefined) return null;
  if (wild.length * 2 > pairs.length)
    return { code: 'ele-suspect', values: { found: 'mostOff', overM: WILD_M } };
  return {
    code: 'ele-suspect',
    values: {
      found: 'someOff',
      count: wild.length,
      points: pairs.length,
      zeros: wild.filter(({ recordedM }) => recordedM === 0).length,
      overM: WILD_M,
      firstAtM: first.alongM,
    },
  };
}
