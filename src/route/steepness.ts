import type { Run } from './runs.ts';
import { smooth } from './smooth.ts';

/** Length over which a grade counts as sustained, metres (design). */
const SUSTAINED_M = 200;

/**
 * The steepest climb or drop of the line over any 200 m of its length, as a ratio of rise to run; `null` for a
 * line that is shorter than that everywhere.
 */
export function steepestSustained(runs: readonly Run[], windowM: number): number | null {
  let steepest: number | null = null;
  for (const run of runs) {
    const heights = smooth(run.groundM, run.spacingM, windowM);
    const reach = Math.max(1, Math.round(SUSTAINED_M / run.spacingM));
    for (let i = 0; i + reach < heights.length; i += 1) {
      const slope = Math.abs((heights[i + reach] ?? 0) - (heights[i] ?? 0)) / (reach * run.spacingM);
      if (steepest === null || slope > steepest) steepest = slope;
    }
  }
  return steepest;
}
