import { at } from '../../array.ts';
import type { Design } from '../../design.ts';
import { stepM } from '../../ingest/step-length.ts';
import { type Fix, fixesOf, type Line, mapPoints, type NotedLine } from './line.ts';

/** Farther than a receiver wanders, and faster than anyone is. */
function isJump(from: Fix, to: Fix, limits: Design['recording']): boolean {
  const lengthM = stepM(from.point, to.point);
  return lengthM > limits.jitterM && lengthM > (limits.rideMs * (to.timeMs - from.timeMs)) / 1000;
}

/** The fix at which the line is back where a walker from `i` may be, after a jump off and a jump back; -1: it is not. */
function backAt(fixes: readonly Fix[], i: number, limits: Design['recording']): number {
  const start = fixes[i];
  for (let k = i + 1; start !== undefined; k += 1) {
    const [off, next] = [fixes[k], fixes[k + 1]];
    if (off === undefined || next === undefined || next.segment !== start.segment) return -1;
    const seconds = (next.timeMs - start.timeMs) / 1000;
    if (seconds > limits.windowS) return -1;
    if (isJump(off, next, limits)) {
      return stepM(start.point, next.point) <= limits.walkMostMs * seconds ? k + 1 : -1;
    }
    if (stepM(off.point, next.point) > limits.jitterM) return -1;
  }
  return -1;
}

/**
 * The line without the points to which it jumps off and from which it jumps back: bad fixes, which would count as way
 * walked twice. A drive does not come back so soon. Times must rise strictly (`trustedClock`).
 */
export function withoutStrays(line: Line, limits: Design['recording']): NotedLine {
  const fixes = fixesOf(line);
  const stray = new Set<number>();
  for (let i = 0; i + 2 < fixes.length; i += 1) {
    const [from, off] = [fixes[i], fixes[i + 1]];
    if (from === undefined || off === undefined || from.segment !== off.segment) continue;
    if (!isJump(from, off, limits)) continue;
    const back = backAt(fixes, i, limits);
    if (back === -1) continue;
    for (let index = from.index + 1; index < at(fixes, back).index; index += 1) stray.add(index);
    i = back - 1;
  }
  if (stray.size === 0) return { line, notes: [] };
  const values = { count: stray.size, overM: limits.jitterM };
  return {
    line: mapPoints(line, (point, i) => (stray.has(i) ? null : point)),
    notes: [{ code: 'stray-points', values }],
  };
}
