import { at } from '../array.ts';
import { smooth } from './smooth.ts';
import { turningPoints } from './turning-points.ts';

/** A profile as it is counted: smoothed heights, and the stations where the way turns up or down. */
export interface Trace {
  readonly heightsM: readonly number[];
  readonly turns: readonly number[];
}

/** What makes a reversal count, metres, and how it is read. */
export interface Reversal {
  /** It is at least this high. */
  readonly leastM: number;
  /** It stands out by this from where the way was going: on the level this is its height, within a climb less will do. */
  readonly clearM: number;
  /** Share, 0 to 1, of what smoothing takes off a turning point that is given back. */
  readonly restored: number;
}

/** The way before and after a reversal over which its direction is taken, metres (design: longer than a dip, shorter than a climb). */
const TREND_REACH_M = 200;
/** Length of the slopes that meet in a turning point, metres (as the window). */
const SLOPE_REACH_M = 60;

/** First, last, highest and lowest station, in order, each once. */
function anchors(heightsM: readonly number[]): number[] {
  let highest = 0;
  let lowest = 0;
  heightsM.forEach((height, i) => {
    if (height > at(heightsM, highest)) highest = i;
    if (height < at(heightsM, lowest)) lowest = i;
  });
  return [...new Set([0, lowest, highest, heightsM.length - 1])].sort((a, b) => a - b);
}

/**
 * How far the ground turns beyond the station that turns, metres, downwards negative. Two slopes a and b that meet
 * between stations s apart meet a·b·s/(2·(a + b)) beyond the outer one, on average.
 */
function beyondM(heightsM: readonly number[], spacingM: number, before: number, turn: number, after: number) {
  const reach = Math.max(1, Math.round(SLOPE_REACH_M / spacingM));
  const from = Math.max(before, turn - reach);
  const to = Math.min(after, turn + reach);
  const height = at(heightsM, turn);
  const a = (height - at(heightsM, from)) / (turn - from);
  const b = (height - at(heightsM, to)) / (to - turn);
  return a * b > 0 ? (a * b) / (2 * (a + b)) : 0;
}

/**
 * Smooths a profile and finds its turning points, section by section between its ends, its top and its bottom,
 * whose heights stay as they are: the gain is then never less than the top above the start, and gain minus loss is
 * the end above the start, exactly. A mean cuts every other high and fills every low; this is given back as told.
 *
 * @param heightsM at least two heights, metres, none missing
 */
export function traceOf(
  heightsM: readonly number[],
  spacingM: number,
  windowM: number,
  { leastM, clearM, restored }: Reversal,
): Trace {
  const reach = Math.round(TREND_REACH_M / spacingM);
  const anchored = anchors(heightsM);
  const smoothed: number[] = [];
  const turns: number[] = [0];
  anchored.forEach((end, i) => {
    const start = anchored[i - 1];
    if (start === undefined) return;
    const section = smooth(heightsM.slice(start, end + 1), spacingM, windowM);
    smoothed.push(...(i === 1 ? section : section.slice(1)));
    const counts = (from: number, to: number): boolean => {
      const rise = at(section, to) - at(section, from);
      if (Math.abs(rise) < leastM) return false;
      const first = Math.max(0, start + from - reach);
      const last = Math.min(heightsM.length - 1, start + to + reach);
      const trend = (at(heightsM, last) - at(heightsM, first)) / (last - first);
      const againstM = Math.max(0, -Math.sign(rise) * trend * (to - from));
      return Math.abs(rise) + againstM >= clearM;
    };
    for (const turn of turningPoints(section, counts)) if (turn > 0) turns.push(start + turn);
  });

  turns.forEach((turn, i) => {
    const before = turns[i - 1];
    const after = turns[i + 1];
    if (before === undefined || after === undefined || anchored.includes(turn)) return;
    const turnM = at(heightsM, turn) + beyondM(heightsM, spacingM, before, turn, after);
    smoothed[turn] = at(smoothed, turn) + restored * (turnM - at(smoothed, turn));
  });
  return { heightsM: smoothed, turns };
}

/** What the legs of some profiles climb and drop in all, metres, and how many do. */
export interface Climb {
  readonly gain: number;
  readonly loss: number;
  readonly climbs: number;
  readonly drops: number;
}

export function climbOf(traces: readonly Trace[]): Climb {
  let [gain, loss, climbs, drops] = [0, 0, 0, 0];
  for (const { heightsM, turns } of traces) {
    turns.slice(1).forEach((turn, i) => {
      const rise = at(heightsM, turn) - at(heightsM, at(turns, i));
      gain += Math.max(0, rise);
      loss += Math.max(0, -rise);
      if (rise > 0) climbs += 1;
      if (rise < 0) drops += 1;
    });
  }
  return { gain, loss, climbs, drops };
}

/** Every reversal of so many metres counts, and nothing of it is given back. */
export const always = (heightM: number): Reversal => ({ leastM: heightM, clearM: heightM, restored: 0 });
