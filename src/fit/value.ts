/** Least value of a criterion: low enough that nothing buys it back, above 0 so that order remains within a verdict. */
export const LEAST_VALUE = 0.01;

/** Value of what is not stated and counts as met (design). */
export const NOT_STATED_VALUE = 0.9;

type Points = readonly (readonly [number, number])[];

/** Straight lines between `[x, value]` points in rising order of x, flat beyond both ends. */
export function piecewise(x: number, points: Points): number {
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

/** The curve of `ratioValue` for one stretch limit, for those who ask it often. */
export function ratioCurve(stretchLimit: number): (ratio: number) => number {
  const points: Points = [
    [0.8, 1],
    [1, 0.6],
    [stretchLimit, 0.2],
    [2 * stretchLimit, LEAST_VALUE],
  ];
  return (ratio) => piecewise(ratio, points);
}

/** Value of a demand/capacity ratio (design): full with a quarter of headroom, 0.6 at the limit, little beyond. */
export const ratioValue = (ratio: number, stretchLimit: number): number => ratioCurve(stretchLimit)(ratio);

const SPARE: Points = [
  [0, 0.6],
  [120, 1],
];

/** Value of the minutes to spare before a limit that is kept (design): 0.6 with none, full with two hours. */
export const spareValue = (spareMin: number): number => piecewise(spareMin, SPARE);

/** Value of the chance to be down in time where no start gives the one wanted (design). */
export function chanceValue(probability: number, wanted: number, stretchProbability: number): number {
  return probability >= stretchProbability
    ? piecewise(probability, [
        [stretchProbability, 0.2],
        [wanted, 0.6],
      ])
    : piecewise(probability, [
        [0, LEAST_VALUE],
        [stretchProbability, 0.15],
      ]);
}

/** Value of a day that ends after the hour kept before dusk, but before dusk (design). */
export const NEAR_DUSK_VALUE = 0.3;

const OFF_AIM: Points = [
  [0, 1],
  [0.25, 0.6],
  [0.75, 0.2],
];

/** Value of a day's share of the work shown, by how far it lies from the share aimed at (design). */
export const aimValue = (share: number, target: number): number =>
  piecewise(Math.abs(share - target), OFF_AIM);
