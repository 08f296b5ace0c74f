import type { Place } from '../../earth/geodesic.ts';
import { stepM } from '../../ingest/step-length.ts';

/** A point in every so many is kept whatever it is, so that a long line costs no more than its length (design). */
const ANCHOR_EVERY = 1000;

interface OnPlane {
  readonly xM: number;
  readonly yM: number;
}

/** The points in metres on a plane, true near the first; good enough to tell a bend of metres. */
function onPlane(points: readonly Place[]): OnPlane[] {
  const [origin] = points;
  if (origin === undefined) return [];
  const { lonDeg, latDeg } = origin;
  const xPerDeg = 1000 * stepM({ lonDeg: lonDeg - 0.0005, latDeg }, { lonDeg: lonDeg + 0.0005, latDeg });
  const yPerDeg = 1000 * stepM({ lonDeg, latDeg: latDeg - 0.0005 }, { lonDeg, latDeg: latDeg + 0.0005 });
  return points.map((point) => ({
    xM: (point.lonDeg - lonDeg) * xPerDeg,
    yM: (point.latDeg - latDeg) * yPerDeg,
  }));
}

/** Distance from a straight line between two places, metres. */
function offLineM(from: OnPlane, to: OnPlane, point: OnPlane): number {
  const [dx, dy] = [to.xM - from.xM, to.yM - from.yM];
  const [px, py] = [point.xM - from.xM, point.yM - from.yM];
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square));
  return Math.hypot(px - share * dx, py - share * dy);
}

/** Marks the points between two that make bends of over the tolerance. */
function markBends(
  keep: Uint8Array,
  points: readonly Place[],
  start: number,
  end: number,
  toleranceM: number,
) {
  const plane = onPlane(points.slice(start, end + 1));
  const open: (readonly [number, number])[] = [[0, end - start]];
  for (let span = open.pop(); span !== undefined; span = open.pop()) {
    const [first, last] = span;
    const [from, to] = [plane[first], plane[last]];
    let farthest = -1;
    let mostM = toleranceM;
    for (let i = first + 1; i < last; i += 1) {
      const point = plane[i];
      if (from === undefined || to === undefined || point === undefined) continue;
      const offM = offLineM(from, to, point);
      if (offM <= mostM) continue;
      mostM = offM;
      farthest = i;
    }
    if (farthest === -1) continue;
    keep[start + farthest] = 1;
    open.push([first, farthest], [farthest, last]);
  }
}

/**
 * Which points of a line to keep so that none of those left out lies farther than `toleranceM` from it: the first, the
 * last, and those that make its bends (Douglas & Peucker 1973, *Cartographica* 10(2):112–122). Indexes, rising.
 */
export function withinTolerance(points: readonly Place[], toleranceM: number): number[] {
  const last = points.length - 1;
  const keep = new Uint8Array(points.length);
  for (let start = 0; start <= last; start += ANCHOR_EVERY) {
    const end = Math.min(start + ANCHOR_EVERY, last);
    keep[start] = keep[end] = 1;
    markBends(keep, points, start, end, toleranceM);
  }
  return points.flatMap((_, i) => (keep[i] === 1 ? [i] : []));
}
