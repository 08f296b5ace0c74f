import { median } from '../array.ts';
import type { Design } from '../design.ts';
import { addDays } from '../earth/local-time.ts';
import { uphillFactor } from './altitude.ts';
import { joinDays } from './join-days.ts';
import type { Outing } from './outing.ts';
import { type PaceModel, predictMoving, type Spread, spreadOf } from './pace-model.ts';
import { NO_WALK, plus, type Quantities } from './quantities.ts';

/** One day: what was predicted for what was walked, from the days before it, and what it took. */
export interface PredictionRow {
  readonly date: string;
  /** Clocked outings that the prediction stood on; 0: the trade rule alone. */
  readonly outingsBefore: number;
  /** Moving time, stops not counted, minutes. */
  readonly predictedMin: Spread;
  readonly tookMin: number;
  readonly inside80: boolean;
  /** Took over predicted (middle): above 1 the group was slower, the unsafe side. */
  readonly ratio: number;
}

export interface ShareBand {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** A season's predictions against what happened. `null` where no day could be compared. */
export interface PredictionRecord {
  readonly rows: readonly PredictionRow[];
  readonly n: number;
  readonly inside80: number;
  /** Share of days inside; 0.8 is what it should be. */
  readonly coverage: ShareBand | null;
  /** Days that took longer than the late time; 1 in 10 is what it should be. */
  readonly laterThanP90: number;
  readonly medianErrorMin: number | null;
  readonly medianRatio: number | null;
  readonly tendency: 'slower' | 'faster' | 'asPredicted' | null;
}

const Z95 = 1.96; // 97.5 % of the standard normal distribution
const Z90 = 1.645; // the gain band is read as a 90 % interval, as in day/arrivals.ts

/** A middle ratio so close to 1 is as predicted (design). */
const AS_PREDICTED = 0.05;
/** A clock that covers less of the walk than this did not time it (design). */
const LEAST_TIMED = 0.99;

/**
 * Interval of a share seen `inside` times in `n` days, 95 %: the score interval, which keeps sense for few days.
 * E. B. Wilson 1927, J. Am. Stat. Assoc. 22:209–212; for n ≥ 1.
 * @example wilson(15, 148) // { value: 0.1014, low: 0.0624, high: 0.1605 }
 * @throws RangeError without a day.
 */
export function wilson(inside: number, n: number): ShareBand {
  if (!(n >= 1 && inside >= 0 && inside <= n)) throw new RangeError(`${inside} of ${n} days is no share`);
  const value = inside / n;
  const z2 = Z95 ** 2;
  const middle = (value + z2 / (2 * n)) / (1 + z2 / n);
  const half = (Z95 / (1 + z2 / n)) * Math.sqrt((value * (1 - value)) / n + z2 / (4 * n * n));
  return { value, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** Whether the moving time is that of the whole walk: a clock that ran for half of it would make it look quick. */
function isWhollyTimed({ quantities, parts }: Outing): boolean {
  if (quantities === null || parts.length === 0) return false;
  const timed = parts.map((part) => part.quantities).reduce(plus, NO_WALK);
  const amount = ({ upKm, downKm }: Quantities) => upKm + downKm;
  return amount(quantities) > 0 && amount(timed) >= LEAST_TIMED * amount(quantities);
}

/** The walk in trail-equivalent quantities: climbs above the height of the training are slower, as for a route. */
function slowed(walk: Quantities, climbElevationM: number | null, pace: PaceModel): Quantities {
  const factor = climbElevationM === null ? 1 : uphillFactor(climbElevationM, pace.trainingElevationM);
  return { ...walk, upKm: walk.upKm * factor, upM: walk.upM * factor };
}

/**
 * One outing against its prediction, minutes; `null` where its climb or its whole moving time is not known. The ground
 * counts as trail: an outing does not say what it was.
 *
 * @param pace learned from days before the outing alone
 */
export function predictionRow(outing: Outing, pace: PaceModel): PredictionRow | null {
  const { quantities, movingMin, gainM, gainHighM, climbElevationM } = outing;
  if (quantities === null || movingMin === null || !isWhollyTimed(outing)) return null;
  const climbDoubtM = Math.max(0, (gainHighM ?? gainM ?? 0) - (gainM ?? 0)) / Z90;
  const walk = slowed(quantities, climbElevationM, pace);
  const predictedMin = spreadOf(predictMoving(pace, walk, { groundDoubt: 0, climbDoubtM }));
  return {
    date: outing.date,
    outingsBefore: pace.outings,
    predictedMin,
    tookMin: movingMin,
    inside80: movingMin >= predictedMin.p10 && movingMin <= predictedMin.p90,
    ratio: movingMin / predictedMin.p50,
  };
}

export function recordOf(rows: readonly PredictionRow[]): PredictionRecord {
  const n = rows.length;
  const inside80 = rows.filter((row) => row.inside80).length;
  const laterThanP90 = rows.filter((row) => row.tookMin > row.predictedMin.p90).length;
  const coverage = n === 0 ? null : wilson(inside80, n);
  const medianRatio = n === 0 ? null : median(rows.map((row) => row.ratio));
  const tendency =
    medianRatio === null
      ? null
      : medianRatio > 1 + AS_PREDICTED
        ? 'slower'
        : medianRatio < 1 - AS_PREDICTED
          ? 'faster'
          : 'asPredicted';
  const errorsMin = rows.map((row) => Math.abs(row.tookMin - row.predictedMin.p50));
  const medianErrorMin = n === 0 ? null : median(errorsMin);
  return { rows, n, inside80, coverage, laterThanP90, medianErrorMin, medianRatio, tendency };
}

/**
 * The record of a season: each clocked day of the year up to `until` predicted from the days strictly before it, in
 * the order of the dates. A later day never changes an earlier row.
 *
 * @param paceFor the pace that a plan for this outing would have stood on: learned from the outings given, which all
 *   lie before it and still count, as of its date and for those who were there
 */
export function predictionRecord(
  outings: readonly Outing[],
  until: string,
  paceFor: (before: readonly Outing[], outing: Outing) => PaceModel,
  design: Design,
): PredictionRecord {
  const { recordDays, recordOutings } = design.afterDay;
  const from = addDays(until, -recordDays);
  const season = joinDays(outings, design)
    // A day whose people have all left the cohort is nobody's.
    .filter(({ date, members }) => date > from && date <= until && members?.length !== 0)
    .filter((outing) => outing.movingMin !== null && isWhollyTimed(outing))
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
    .slice(-recordOutings);
  // What has no weight left (detraining.ts) moves no prediction: with many years of outings this is most of them.
  const { windowDaysMinor, windowDaysAdult } = design.detraining;
  const fadedDays = 2 * Math.ceil(Math.max(windowDaysMinor, windowDaysAdult));
  const rows = season.flatMap((outing) => {
    const oldest = addDays(outing.date, -fadedDays);
    const before = outings.filter(({ date }) => date < outing.date && date >= oldest);
    const row = predictionRow(outing, paceFor(before, outing));
    return row === null ? [] : [row];
  });
  return recordOf(rows);
}
