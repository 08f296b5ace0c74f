import { smooth } from './smooth.ts';
import { turningPoints } from './turning-points.ts';

/** A profile as it is counted: smoothed heights, and the stations where the way turns up or down. */
export interface Trace {
  readonly heightsM: readonly number[];
  readonly turns: readonly number[];
}

/** First, last, highest and lowest station, in order, each once. */
function pins(heightsM: readonly number[]): number[] {
  let highest = 0;
  let lowest = 0;
  heightsM.forEach((height, i) => {
    if (height > (heightsM[highest] ?? 0)) highest = i;
    if (height < (heightsM[lowest] ?? 0)) lowest = i;
  });
  return [...new Set([0, lowest, highest, heightsM.length - 1])].sort((a, b) => a - b);
}

/**
 * Smooths and finds the turning points of a profile section by section between its ends, its top and its bottom,
 * whose heights stay as they are: the gain is then never less than the top above the start, and gain minus loss is
 * the end above the start, exactly.
 *
 * @param heightsM at least two heights, metres, none missing
 */
export function traceOf(
  heightsM: readonly number[],
  spacingM: number,
  windowM: number,
  thresholdM: number,
): Trace {
  const smoothed: number[] = [];
  const turns: number[] = [0];
  const at = pins(heightsM);
  at.forEach((to, i) => {
    const from = at[i - 1];
    if (from === undefined) return;
    const section = smooth(heightsM.slice(from, to + 1), spacingM, windowM);
    smoothed.push(...(i === 1 ? section : section.slice(1)));
    for (const turn of turningPoints(section, thresholdM)) {
      if (turn > 0) turns.push(from + turn);
    }
  });
  return { heightsM: smoothed, turns };
}
