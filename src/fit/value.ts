/** Least value of a criterion: low enough that nothing buys it back, above 0 so that order remains within a verdict. */
export const LEAST_VALUE = 0.01;

/** Straight lines between `[x, value]` points in rising order of x, flat beyond both ends. */
export function piecewise(x: number, points: readonly (readonly [number, number])[]): number {
  let before = points[0];
  if (before === undefined) throw new RangeError('piecewise needs points');
  if (x <= before[0]) return before[1];
  for (const point of points) {
    if (x <= point[0] && point[0] > before[0]) {
      return before[1] + ((point[1] - before[1]) * (x - before[0])) / (point[0] - before[0]);
    }
    before = point;
  }
  return before[1];
}

/** Value of a demand/capacity ratio (design): full with a quarter of headroom, 0.6 at the limit, little beyond. */
export function ratioValue(ratio: number, stretchLimit: number): number {
  return piecewise(ratio, [
    [0.8, 1],
    [1, 0.6],
    [stretchLimit, 0.2],
    [2 * stretchLimit, LEAST_VALUE],
  ]);
}
