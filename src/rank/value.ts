import { last, numberAt } from '../array.ts';

/** Least value of a criterion: low enough that nothing buys it back, above 0 so that order remains within a verdict. */
export const LEAST_VALUE = 0.01;

/** Value of what is not stated and counts as met (design). */
export const NOT_STATED_VALUE = 0.9;

/** Straight lines between `[x, value]` points in rising order of x, flat beyond both ends. */
export function curveOf(points: readonly (readonly [number, number])[]): (x: number) => number {
  const xs = Float64Array.from(points, ([x]) => x);
  const values = Float64Array.from(points, ([, value]) => value);
  return (x) => {
    if (x <= numberAt(xs, 0)) return numberAt(values, 0);
    for (let i = 1; i < xs.length; i += 1) {
      const [from, to] = [numberAt(xs, i - 1), numberAt(xs, i)];
      if (x > to || to <= from) continue;
      const value = numberAt(values, i - 1);
      return value + ((numberAt(values, i) - value) * (x - from)) / (to - from);
    }
    return last(values);
  };
}

/** Value of a demand/capacity ratio (design): full with a quarter of headroom, 0.6 at the limit, little beyond. */
export const ratioCurve = (stretchLimit: number): ((ratio: number) => number) =>
  curveOf([
    [0.8, 1],
    [1, 0.6],
    [stretchLimit, 0.2],
    [2 * stretchLimit, LEAST_VALUE],
  ]);

/** Value of the minutes to spare before a limit that is kept (design): 0.6 with none, full with two hours. */
export const spareValue = curveOf([
  [0, 0.6],
  [120, 1],
]);

/** The straight line from one value at `from` to another at `to`, flat beyond both. */
const between = (x: number, from: number, to: number, low: number, high: number): number =>
  x <= from ? low : x >= to ? high : low + ((high - low) * (x - from)) / (to - from);

/** Value of the chance to be down in time where no start gives the one wanted (design). */
export const chanceValue = (probability: number, wanted: number, stretchProbability: number): number =>
  probability >= stretchProbability
    ? between(probability, stretchProbability, wanted, 0.2, 0.6)
    : between(probability, 0, stretchProbability, LEAST_VALUE, 0.15);
