import { at } from '../array.ts';
import type { Run } from './runs.ts';
import { smooth } from './smooth.ts';

/** Length over which a grade counts as sustained, metres (design). */
const SUSTAINED_M = 200;

/** The steepest sustained stretch of a line. */
export interface Sustained {
  /** Rise over run, up or down. */
  readonly ratio: number;
  /** Where it begins, metres along the route. */
  readonly fromM: number;
}

/**
 * The steepest climb or drop of the line over any 200 m of its length; `null` for a line that is shorter than that
 * everywhere.
 */
export function steepestSustained(runs: readonly Run[], windowM: number): Sustained | null {
  let steepest: Sustained | null = null;
  for (const run of runs) {
    const heights = smooth(run.groundM, run.spacingM, windowM);
    const reach = Math.max(1, Math.round(SUSTAINED_M / run.spacingM));
    for (let i = 0; i + reach < heights.length; i += 1) {
      const ratio = Math.abs(at(heights, i + reach) - at(heights, i)) / (reach * run.spacingM);
      if (steepest === null || ratio > steepest.ratio) steepest = { ratio, fromM: at(run.distanceM, i) };
    }
  }
  return steepest;
}
