import { LRUCache } from 'lru-cache';

/** Least value of a criterion: low enough that nothing buys it back, above 0 so that order remains within a verdict. */
export const LEAST_VALUE = 0.01;

/** Value of what is not stated and counts as met (design). */
export const NOT_STATED_VALUE = 0.9;

type Points = readonly (readonly [number, number])[];

interface Corners {
  readonly xs: Float64Array;
  readonly values: Float64Array;
}

function cornersOf(points: Points): Corners {
  if (points.length === 0) throw new RangeError('a curve needs points');
  return {
    xs: Float64Array.from(points, ([x]) => x),
    values: Float64Array.from(points, ([, value]) => value),
  };
}

function valueAt(xs: Float64Array, values: Float64Array, x: number): number {
  if (x <= (xs[0] ?? 0)) return values[0] ?? 0;
  for (let i = 1; i < xs.length; i += 1) {
    const to = xs[i] ?? 0;
    const from = xs[i - 1] ?? 0;
    if (x <= to && to > from) {
      const value = values[i - 1] ?? 0;
      return value + (((values[i] ?? 0) - value) * (x - from)) / (to - from);
    }
  }
  return values[xs.length - 1] ?? 0;
}

/** Straight lines between `[x, value]` points in rising order of x, flat beyond both ends. */
export function curveOf(points: Points): (x: number) => number {
  const { xs, values } = cornersOf(points);
  return (x) => valueAt(xs, values, x);
}

/** Writes the value of a curve at each x of a column into another, or into the same. */
export type ColumnCurve = (column: Float64Array, into: Float64Array) => void;

/** `curveOf` for a column at once: the same values to the last digit. */
export function columnCurveOf(points: Points): ColumnCurve {
  const { xs, values } = cornersOf(points);
  return (column, into) => {
    for (let i = 0; i < column.length; i += 1) into[i] = valueAt(xs, values, column[i] ?? 0);
  };
}

/** Curves kept, by their limit (design): a cohort has three at most, of age and of drive. */
const ratioCurves = new LRUCache<number, (ratio: number) => number>({ max: 100 });

const ratioPoints = (stretchLimit: number): Points => [
  [0.8, 1],
  [1, 0.6],
  [stretchLimit, 0.2],
  [2 * stretchLimit, LEAST_VALUE],
];

/** Value of a demand/capacity ratio (design): full with a quarter of headroom, 0.6 at the limit, little beyond. */
export function ratioCurve(stretchLimit: number): (ratio: number) => number {
  const known = ratioCurves.get(stretchLimit);
  if (known !== undefined) return known;
  const curve = curveOf(ratioPoints(stretchLimit));
  ratioCurves.set(stretchLimit, curve);
  return curve;
}

/** `ratioCurve` for a column of ratios. */
export const ratioColumn = (stretchLimit: number): ColumnCurve => columnCurveOf(ratioPoints(stretchLimit));

const SPARE_POINTS: Points = [
  [0, 0.6],
  [120, 1],
];

/** Value of the minutes to spare before a limit that is kept (design): 0.6 with none, full with two hours. */
export const spareValue = curveOf(SPARE_POINTS);

/** `spareValue` for a column of minutes. */
export const spareColumn = columnCurveOf(SPARE_POINTS);

/** The straight line from one value at `from` to another at `to`, flat beyond both. */
const between = (x: number, from: number, to: number, low: number, high: number): number =>
  x <= from ? low : x >= to ? high : low + ((high - low) * (x - from)) / (to - from);

/** Value of the chance to be down in time where no start gives the one wanted (design). */
export const chanceValue = (probability: number, wanted: number, stretchProbability: number): number =>
  probability >= stretchProbability
    ? between(probability, stretchProbability, wanted, 0.2, 0.6)
    : between(probability, 0, stretchProbability, LEAST_VALUE, 0.15);

/** Value of a day that ends after the hour kept before dusk, but before dusk (design). */
export const NEAR_DUSK_VALUE = 0.3;

const OFF_AIM_POINTS: Points = [
  [0, 1],
  [0.25, 0.6],
  [0.75, 0.2],
];
const offAim = curveOf(OFF_AIM_POINTS);
const offAimColumn = columnCurveOf(OFF_AIM_POINTS);

/** Value of a day's share of the work shown, by how far it lies from the share aimed at (design). */
export const aimValue = (share: number, target: number): number => offAim(Math.abs(share - target));

/** `aimValue` for a column of shares. */
export function aimColumn(shares: Float64Array, target: number, into: Float64Array): void {
  for (let i = 0; i < shares.length; i += 1) into[i] = Math.abs((shares[i] ?? 0) - target);
  offAimColumn(into, into);
}
