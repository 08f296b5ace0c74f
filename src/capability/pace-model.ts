import { LRUCache } from 'lru-cache';
import { at, weightedMean } from '../array.ts';
import type { Design } from '../design.ts';
import { type ExtraTime, rockOf } from './extra-time.ts';
import { type Posterior, type Prior, solveBayes } from './least-squares.ts';
import type { Outing, TimedPart } from './outing.ts';
import type { Quantities } from './quantities.ts';
import { slowerDownMin } from './rules/trade-rule.ts';
import { studentTProbability, studentTQuantile } from './student-t.ts';

/** Moving time of a walk as a Student-t: minutes. */
export interface TimeEstimate {
  readonly meanMin: number;
  /** Scale of the Student-t (its standard deviation is a little larger). */
  readonly scaleMin: number;
  readonly degreesOfFreedom: number;
}

/** A group's pace: minutes per unit of each of the four quantities, with its doubt. */
export interface PaceModel extends ExtraTime {
  readonly posterior: Posterior;
  readonly prior: Prior;
  /** Clocked outings behind it. */
  readonly outings: number;
  /** Mean height of the climbs it was learned on, metres; 0 where none is known (the cautious end). */
  readonly trainingElevationM: number;
  /** Steepest mean slope, rise over run, of the climbs and descents it was learned on; `null`: of none. */
  readonly trainedSlope: { readonly up: number | null; readonly down: number | null };
  readonly noise: Pick<
    Design['pace'],
    'dayNoise' | 'legNoise' | 'shapeNoise' | 'steeperTime' | 'steeperDoubt'
  >;
}

const vector = (q: Quantities): readonly number[] => [q.upKm, q.upM, q.downKm, q.downM];

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * at(b, i), 0);

/** The leg to which the descent's prior rates are fitted: 4 km with 1,000 m of drop, a steep mountain descent. */
const STEEP_DESCENT = { horizontalM: 4000, dropM: 1000 };

/**
 * Prior rates: up by the trade rule; down a straight line between the slower rule's level pace and its time on a
 * 25 % descent, which is nowhere faster than the slower of the trade rule and DIN 33466 up to that slope.
 */
function priorRates(trade: Design['tradeRule']): number[] {
  const levelMin = trade.minPerKm;
  const steepMin = slowerDownMin(STEEP_DESCENT.horizontalM, STEEP_DESCENT.dropM, trade);
  const perDropM = (steepMin - (STEEP_DESCENT.horizontalM / 1000) * levelMin) / STEEP_DESCENT.dropM;
  return [trade.minPerKm, trade.minPerClimbM, levelMin, perDropM];
}

function priorOf(design: Design): Prior {
  const mean = priorRates(design.tradeRule);
  const { sharedSpread, ownSpread } = design.pace;
  // Up and down are independent, so a fast climb never shortens the predicted descent.
  const covariance = mean.map((a, i) =>
    mean.map((b, j) => {
      const sameWay = i < 2 === j < 2;
      return a * b * ((sameWay ? sharedSpread ** 2 : 0) + (i === j ? ownSpread ** 2 : 0));
    }),
  );
  return { mean, covariance, degreesOfFreedom: design.pace.priorDegreesOfFreedom };
}

/** Steepest mean slope of the parts that go one way only; a day known only as a whole says nothing of a slope. */
function steepest(parts: readonly Quantities[], climbing: boolean): number | null {
  const slopes = parts
    .filter((part) => (climbing ? part.downKm === 0 : part.upKm === 0))
    .map((part) => (climbing ? part.upM / part.upKm : part.downM / part.downKm) / 1000)
    .filter(Number.isFinite);
  return slopes.length > 0 ? Math.max(...slopes) : null;
}

/**
 * A part that goes up and down with one time, as two: the time is shared as the prior's rates share it, since nothing says
 * which of the two was the quick one.
 */
function oneWayParts({ quantities, movingMin }: TimedPart, rates: readonly number[]): readonly TimedPart[] {
  const { upKm, upM, downKm, downM } = quantities;
  const up = { upKm, upM, downKm: 0, downM: 0 };
  const down = { upKm: 0, upM: 0, downKm, downM };
  const [upMin, downMin] = [dot(vector(up), rates), dot(vector(down), rates)];
  if (!(upMin > 0 && downMin > 0)) return [{ quantities, movingMin }];
  return [
    { quantities: up, movingMin: (movingMin * upMin) / (upMin + downMin) },
    { quantities: down, movingMin: (movingMin * downMin) / (upMin + downMin) },
  ];
}

/** An outing that counts for less than this is not told apart from one that counts for this (keeps the noise finite). */
const LEAST_WEIGHT = 1e-6;

/** A part that should take less than this says nothing of a pace, minutes. */
const LEAST_EXPECTED_MIN = 0.5;

/** Where a group has climbed, by metres climbed. A climb of unknown height counts as one at sea level: the cautious end. */
function trainingElevationOf(clocked: readonly Outing[]): number {
  const climbs = clocked.flatMap(({ climbElevationM, quantities }) =>
    quantities === null ? [] : [[climbElevationM ?? 0, quantities.upM] as const],
  );
  return weightedMean(climbs) ?? 0;
}

/**
 * Learns a group's pace from its clocked outings: Bayesian regression of moving minutes on the four quantities,
 * noise growing with duration, the parts of one outing sharing the day's error.
 *
 * @param weightOf how much an outing counts, 0 (not at all) to 1: its noise grows as its weight falls
 */
export function fitPaceModel(
  outings: readonly Outing[],
  design: Design,
  weightOf: (outing: Outing) => number = () => 1,
): PaceModel {
  const prior = priorOf(design);
  // The noise of one day links its parts, so the work grows with the cube of the outings: the latest, which weigh
  // most, are enough.
  const clocked = outings
    .filter((outing) => outing.parts.length > 0 && weightOf(outing) > 0)
    .sort((a, b) => weightOf(b) - weightOf(a) || (a.date < b.date ? 1 : a.date > b.date ? -1 : 0))
    .slice(0, design.pace.mostOutings);
  const { dayNoise, legNoise, shapeNoise, splitNoise, rateFloor, steeperTime, steeperDoubt } = design.pace;

  const rows: (readonly number[])[] = [];
  const values: number[] = [];
  const day: number[] = [];
  const stretch: number[] = [];
  const split: number[] = [];
  clocked.forEach((outing, index) => {
    const parts = outing.parts.flatMap((one) => {
      const ways = oneWayParts(one, prior.mean);
      return ways.map((way) => ({ ...way, noise: ways.length > 1 ? splitNoise : 0 }));
    });
    for (const part of parts) {
      const row = vector(part.quantities);
      // A part without length or height says nothing of a pace.
      if (dot(row, prior.mean) < LEAST_EXPECTED_MIN || !(part.movingMin > 0)) continue;
      rows.push(row);
      values.push(part.movingMin);
      day.push(index);
      split.push(part.noise);
      stretch.push(1 / Math.sqrt(Math.max(LEAST_WEIGHT, weightOf(outing))));
    }
  });
  const fitted = (expected: readonly number[]): Posterior => {
    const noise = expected.map((a, i) =>
      expected.map((b, j) => {
        const sameDay = day[i] === day[j] ? dayNoise ** 2 : 0;
        const aged = at(stretch, i) * at(stretch, j);
        return aged * a * b * (sameDay + (i === j ? legNoise ** 2 + shapeNoise ** 2 + at(split, i) ** 2 : 0));
      }),
    );
    return solveBayes(rows, values, noise, prior);
  };
  const byPrior = rows.map((row) => dot(row, prior.mean));
  const first = fitted(byPrior);
  // The noise grows with the time that the group needs. Never beyond the prior's time: a slow day must not count for
  // less because it was slow, or slowing every outing could shorten a prediction.
  const posterior = fitted(
    rows.map((row, i) => {
      const slow = at(byPrior, i);
      return Math.min(slow, Math.max(rateFloor * slow, dot(row, first.mean)));
    }),
  );

  const walked = clocked.flatMap(({ parts }) => parts.map((part) => part.quantities));
  const stops = outings.filter((outing) => outing.movingMin !== null && outing.standingMin !== null);
  const movingH = stops.reduce((sum, outing) => sum + (outing.movingMin ?? 0), 0) / 60;
  const standingMin = stops.reduce((sum, outing) => sum + (outing.standingMin ?? 0), 0);
  const { minPerMovingHour, spreadMinPerHour, priorHours } = design.stops;

  return {
    posterior: {
      ...posterior,
      mean: posterior.mean.map((rate, i) => Math.max(rate, rateFloor * at(prior.mean, i))),
    },
    prior,
    outings: clocked.length,
    trainingElevationM: trainingElevationOf(clocked),
    stopsMinPerHour: (minPerMovingHour * priorHours + standingMin) / (priorHours + movingH),
    stopsSpreadMinPerHour: spreadMinPerHour * Math.sqrt(1 + priorHours / (priorHours + movingH)),
    trainedSlope: { up: steepest(walked, true), down: steepest(walked, false) },
    rock: rockOf(1, design),
    noise: { dayNoise, legNoise, shapeNoise, steeperTime, steeperDoubt },
  };
}

/** Up to this quantile (its normal deviate) a longer walk never takes less time, whatever steep ground adds. */
const STEEP_DEVIATE = 1.7;

/**
 * Minutes, at the group's own rate, of the metres beyond what the steepest trained slope gives over the same length.
 * Bounded so that length never buys more of what is added for them than it costs.
 *
 * @param trained `NaN`: nothing was learned of a slope
 */
function beyondTrainedMin(
  heightM: number,
  lengthKm: number,
  trained: number,
  [perKm, perM]: readonly [number, number],
  mostAdded: number,
): number {
  if (Number.isNaN(trained)) return 0;
  const beyondM = heightM - trained * 1000 * lengthKm;
  if (beyondM <= 0) return 0;
  const slopeMin = mostAdded * perM * trained * 1000;
  return beyondM * perM * (slopeMin > perKm ? perKm / slopeMin : 1);
}

/** Minutes beyond the trained slopes, up and down together, as a function of a walk. */
function beyondOf({ posterior, trainedSlope, noise }: PaceModel) {
  const [upKmMin = 0, upMMin = 0, downKmMin = 0, downMMin = 0] = posterior.mean;
  const mostAdded = noise.steeperTime + STEEP_DEVIATE * noise.steeperDoubt;
  const up = trainedSlope.up ?? Number.NaN;
  const down = trainedSlope.down ?? Number.NaN;
  return (upKm: number, upM: number, downKm: number, downM: number): number =>
    beyondTrainedMin(upM, upKm, up, [upKmMin, upMMin], mostAdded) +
    beyondTrainedMin(downM, downKm, down, [downKmMin, downMMin], mostAdded);
}

/**
 * What ground steeper than any the pace was learned on adds, minutes: published rules bend upward there, which four
 * straight rates cannot. `moreMin` lengthens the middle time, `doubtMin` widens it.
 */
export function steepGround(
  model: PaceModel,
  { upKm, upM, downKm, downM }: Quantities,
): { readonly moreMin: number; readonly doubtMin: number } {
  const beyondMin = beyondOf(model)(upKm, upM, downKm, downM);
  return { moreMin: model.noise.steeperTime * beyondMin, doubtMin: model.noise.steeperDoubt * beyondMin };
}

// biome-ignore lint/complexity/useMaxParams: numbers of a hot loop, without an object a walk
export type MovingTimer = (
  upKm: number,
  upM: number,
  downKm: number,
  downM: number,
  groundDoubt: number,
  climbDoubtM: number,
  out: { meanMin: number; scaleMin: number },
) => void;

/** A pace made ready to time many walks: the same as `predictMoving`, without an object a walk. */
export function movingTimer(model: PaceModel): MovingTimer {
  const { posterior, noise } = model;
  const beyond = beyondOf(model);
  const [upKmMin = 0, upMMin = 0, downKmMin = 0, downMMin = 0] = posterior.mean;
  const { scale, covariance } = posterior;
  // An outing known only as a whole makes up and down trade off against each other. That is left out, on the wide
  // side: a longer walk then never has a smaller doubt.
  const rates = [0, 1, 2, 3].map((i) =>
    [0, 1, 2, 3].map((j) => {
      const value = at(at(covariance, i), j);
      return i < 2 === j < 2 ? value : Math.max(0, value);
    }),
  );
  const rate = (i: number, j: number): number => at(at(rates, i), j);
  const both = (i: number, j: number): number => rate(i, j) + rate(j, i);
  const [v00, v01, v02, v03] = [rate(0, 0), both(0, 1), both(0, 2), both(0, 3)];
  const [v11, v12, v13] = [rate(1, 1), both(1, 2), both(1, 3)];
  const [v22, v23, v33] = [rate(2, 2), both(2, 3), rate(3, 3)];
  const { dayNoise, legNoise, shapeNoise, steeperTime, steeperDoubt } = noise;
  const dayVariance = dayNoise ** 2;
  const wayVariance = legNoise ** 2 + shapeNoise ** 2;

  // biome-ignore lint/complexity/useMaxParams: numbers of a hot loop, without an object a walk
  return (upKm, upM, downKm, downM, groundDoubt, climbDoubtM, out) => {
    const beyondMin = beyond(upKm, upM, downKm, downM);
    const upMin = upKm * upKmMin + upM * upMMin;
    const meanMin = upMin + downKm * downKmMin + downM * downMMin + steeperTime * beyondMin;
    const ratesVariance =
      upKm * (v00 * upKm + v01 * upM + v02 * downKm + v03 * downM) +
      upM * (v11 * upM + v12 * downKm + v13 * downM) +
      downKm * (v22 * downKm + v23 * downM) +
      v33 * downM * downM;
    // The day and the ground are shared by the whole walk; the way up and the way down each have an error of their own.
    const downMin = meanMin - upMin;
    const noiseVariance =
      (dayVariance + groundDoubt * groundDoubt) * meanMin * meanMin +
      wayVariance * (upMin * upMin + downMin * downMin);
    const climbMin = climbDoubtM * upMMin;
    const steepMin = steeperDoubt * beyondMin;
    out.meanMin = meanMin;
    out.scaleMin = Math.sqrt(
      scale * (ratesVariance + noiseVariance) + climbMin * climbMin + steepMin * steepMin,
    );
  };
}

/**
 * Moving time of a walk given in trail-equivalent quantities.
 *
 * @param extra relative doubt of the ground (rough, talus, snow) and doubt in metres climbed (standard deviation)
 */
export function predictMoving(
  model: PaceModel,
  { upKm, upM, downKm, downM }: Quantities,
  extra: { readonly groundDoubt: number; readonly climbDoubtM: number } = { groundDoubt: 0, climbDoubtM: 0 },
): TimeEstimate {
  const out = { meanMin: 0, scaleMin: 0 };
  movingTimer(model)(upKm, upM, downKm, downM, extra.groundDoubt, extra.climbDoubtM, out);
  return { ...out, degreesOfFreedom: model.posterior.degreesOfFreedom };
}

/**
 * The slower of a group's pace and the prior, for a group with somebody whose pace is not known: rate by rate the
 * slower one, with the prior's wide doubt (sources.md §14, design).
 */
export function noFasterThanPrior(model: PaceModel): PaceModel {
  const { posterior, prior, trainedSlope } = model;
  // Where the trade rule's own rates stand there is nothing learned that steep ground could belie.
  const isOwn = (i: number): boolean => at(posterior.mean, i) > at(prior.mean, i);
  return {
    ...model,
    trainedSlope: {
      up: isOwn(0) || isOwn(1) ? trainedSlope.up : null,
      down: isOwn(2) || isOwn(3) ? trainedSlope.down : null,
    },
    posterior: {
      mean: posterior.mean.map((rate, i) => Math.max(rate, at(prior.mean, i))),
      covariance: prior.covariance,
      degreesOfFreedom: Math.min(posterior.degreesOfFreedom, prior.degreesOfFreedom),
      scale: Math.max(1, posterior.scale),
    },
  };
}

/** Shortest moving time believed at all, as a share of the middle one (design): keeps a wide doubt physical. */
const LEAST_SHARE = 0.35;

/** By degrees of freedom and probability: they are found by trial, and the same are asked for again. */
const deviates = new LRUCache<string, number>({ max: 32_768 });

function deviateOf(p: number, degreesOfFreedom: number): number {
  const key = `${degreesOfFreedom} ${p}`;
  const known = deviates.get(key);
  if (known !== undefined) return known;
  const deviate = studentTQuantile(p, degreesOfFreedom);
  deviates.set(key, deviate);
  return deviate;
}

/** `quantileMin` made ready for many walks of one pace, as a function of middle time and scale. */
export function quantileOf(
  p: number,
  degreesOfFreedom: number,
): (meanMin: number, scaleMin: number) => number {
  const deviate = deviateOf(p, degreesOfFreedom);
  return (meanMin, scaleMin) => Math.max(LEAST_SHARE * meanMin, meanMin + deviate * scaleMin);
}

/** The time not exceeded with probability `p`, minutes. */
export function quantileMin({ meanMin, scaleMin, degreesOfFreedom }: TimeEstimate, p: number): number {
  return quantileOf(p, degreesOfFreedom)(meanMin, scaleMin);
}

/** Minutes that one day in ten, half of the days, and nine in ten take at most. */
export interface Spread {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

export const spreadOf = (time: TimeEstimate): Spread => ({
  p10: quantileMin(time, 0.1),
  p50: quantileMin(time, 0.5),
  p90: quantileMin(time, 0.9),
});

export function probabilityWithin(
  { meanMin, scaleMin, degreesOfFreedom }: TimeEstimate,
  minutes: number,
): number {
  if (scaleMin === 0) return minutes >= meanMin ? 1 : 0;
  return studentTProbability((minutes - meanMin) / scaleMin, degreesOfFreedom);
}
