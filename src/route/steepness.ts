import { at, greatestBy } from '../array.ts';
import type { Run } from './runs.ts';
import { smooth } from './smooth.ts';

/** Length over which a grade counts as sustained, metres (design). */
export const SUSTAINED_M = 200;

/** A sustained stretch of a line. */
export interface Grade {
  /** Where it begins and its middle, metres along the route. */
  readonly fromM: number;
  readonly middleM: number;
  /** Rise over run, below 0 going down. */
  readonly ratio: number;
}

/** The grade of every 200 m of a line's known heights, smoothed; none where it is shorter than that everywhere. */
export const sustainedGrades = (
  runs: readonly Pick<Run, 'distanceM' | 'groundM' | 'spacingM'>[],
  windowM: number,
): Grade[] =>
  runs.flatMap(({ distanceM, groundM, spacingM }) => {
    const heights = smooth(groundM, spacingM, windowM);
    const reach = Math.max(1, Math.round(SUSTAINED_M / spacingM));
    return heights.slice(0, -reach).map((heightM, i) => ({
      fromM: at(distanceM, i),
      middleM: at(distanceM, 0) + (i + reach / 2) * spacingM,
      ratio: (at(heights, i + reach) - heightM) / (reach * spacingM),
    }));
  });

/** The first of the steepest, up or down alike; `null`: none. */
export const steepestOf = (grades: readonly Grade[]): Grade | null =>
  greatestBy(grades, ({ ratio }) => Math.abs(ratio));
