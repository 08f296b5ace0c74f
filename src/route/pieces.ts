import { at, last } from '../array.ts';
import type { Run } from './runs.ts';
import { type Reversal, traceOf } from './trace.ts';

/**
 * A bit of the walk that goes one way, lies in one altitude band and on one side of treeline.
 * The pieces of a route in order are the whole walk: their climbs add up to the gain, their drops to the loss.
 */
export interface Piece {
  readonly fromM: number;
  readonly toM: number;
  /** Length on the plan, metres. */
  readonly horizontalM: number;
  readonly climbM: number;
  readonly dropM: number;
  /** Mean height, metres. */
  readonly elevationM: number;
  /** On a leg that descends; climbing and level ground is `false`. */
  readonly descending: boolean;
  /** `null` where treeline is unknown and the piece may lie above it. */
  readonly aboveTreeline: boolean | null;
  /** Which leg (turning point to turning point) it belongs to. */
  readonly leg: number;
}

/** Altitude bands in which one aerobic fraction is taken, metres (design: the fraction changes under 2 % within one). */
const BAND_M = 250;

interface TreelineRange {
  readonly low: number;
  readonly high: number;
}

function side(elevationM: number, treelineM: number | null, rangeM: TreelineRange): boolean | null {
  if (treelineM !== null) return elevationM > treelineM;
  return elevationM > rangeM.low ? null : false;
}

/** Heights that only rise (or only fall) from a leg's first to its last: what a clamped walk along it climbs. */
function clamped(heights: readonly number[]): number[] {
  const end = last(heights);
  const rising = end >= at(heights, 0);
  let reached = at(heights, 0);
  return heights.map((height, i) => {
    if (i === heights.length - 1) return end;
    const bounded = rising ? Math.min(height, end) : Math.max(height, end);
    reached = rising ? Math.max(reached, bounded) : Math.min(reached, bounded);
    return reached;
  });
}

/** Heights strictly between two at which a leg is cut: altitude bands and treeline, in the order met. */
function cutHeights(startM: number, endM: number, treelineM: number): number[] {
  const low = Math.min(startM, endM);
  const high = Math.max(startM, endM);
  const cuts = treelineM > low && treelineM < high ? [treelineM] : [];
  for (let bandM = (Math.floor(low / BAND_M) + 1) * BAND_M; bandM < high; bandM += BAND_M) {
    if (bandM !== treelineM) cuts.push(bandM);
  }
  return cuts.sort((a, b) => (endM < startM ? b - a : a - b));
}

/**
 * The walk as pieces, cut at turning points, at the altitude bands and at treeline.
 *
 * @param counted what makes a reversal count, as for the gain
 * @param treelineM height of treeline, or `null` with the range in which it may lie
 */
export function piecesOf(
  runs: readonly Run[],
  counted: Reversal,
  windowM: number,
  treelineM: number | null,
  rangeM: TreelineRange,
): Piece[] {
  const pieces: Piece[] = [];
  let leg = 0;
  for (const run of runs) {
    const { heightsM: smoothed, turns } = traceOf(run.groundM, run.spacingM, windowM, counted);
    for (let t = 1; t < turns.length; t += 1) {
      const from = at(turns, t - 1);
      const to = at(turns, t);
      const heights = clamped(smoothed.slice(from, to + 1));
      const startM = at(heights, 0);
      const endM = last(heights);
      const descending = endM < startM;
      let openAtM = at(run.distanceM, from);
      let openM = startM;
      const close = (atM: number, heightM: number) => {
        const middleM = (openM + heightM) / 2;
        pieces.push({
          fromM: openAtM,
          toM: atM,
          horizontalM: atM - openAtM,
          climbM: Math.max(0, heightM - openM),
          dropM: Math.max(0, openM - heightM),
          elevationM: middleM,
          descending,
          aboveTreeline: side(middleM, treelineM, rangeM),
          leg,
        });
        openAtM = atM;
        openM = heightM;
      };
      let step = 0;
      for (const cutM of cutHeights(startM, endM, treelineM ?? rangeM.low)) {
        const passed = (i: number) => {
          const next = at(heights, i + 1);
          return descending ? next < cutM : next > cutM;
        };
        while (step < heights.length - 2 && !passed(step)) step += 1;
        const a = at(heights, step);
        const b = at(heights, step + 1);
        const share = b === a ? 0 : (cutM - a) / (b - a);
        const aM = at(run.distanceM, from + step);
        const bM = at(run.distanceM, from + step + 1);
        close(aM + share * (bM - aM), cutM);
      }
      close(at(run.distanceM, to), endM);
      leg += 1;
    }
  }
  return pieces;
}
