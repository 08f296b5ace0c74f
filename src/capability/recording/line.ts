import type { Place } from '../../earth/geodesic.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { TrackPoint } from '../../ingest/track.ts';

/** The segments of a track. Points are counted through all of them, from 0. */
export type Line = readonly (readonly TrackPoint[])[];

/** A point with a time: which one it is, and where. */
export interface Fix {
  readonly index: number;
  readonly segment: number;
  readonly point: TrackPoint;
  readonly timeMs: number;
}

/** The points with a time, in order. */
export function fixesOf(line: Line): Fix[] {
  const fixes: Fix[] = [];
  let index = 0;
  for (const [segment, points] of line.entries()) {
    for (const point of points) {
      if (point.timeMs !== null) fixes.push({ index, segment, point, timeMs: point.timeMs });
      index += 1;
    }
  }
  return fixes;
}

/** Of fixes in order: the first, each one at least `leastS` after the one before it, and the last. */
export function thinned(fixes: readonly Fix[], leastS: number): Fix[] {
  const kept: Fix[] = [];
  for (const fix of fixes) {
    const before = kept.at(-1);
    if (before === undefined || fix.timeMs - before.timeMs >= leastS * 1000) kept.push(fix);
  }
  const [last, end] = [fixes.at(-1), kept.at(-1)];
  if (last !== undefined && last !== end) kept.push(last);
  return kept;
}

/** The points `from` to `to`, both of them kept; a segment of which fewer than two are left is gone. */
export function slice(line: Line, from: number, to: number): Line {
  let start = 0;
  const kept: (readonly TrackPoint[])[] = [];
  for (const points of line) {
    const part = points.slice(Math.max(0, from - start), Math.max(0, to - start + 1));
    if (part.length >= 2) kept.push(part);
    start += points.length;
  }
  return kept;
}

export function pointCount(line: Line): number {
  return line.reduce((sum, points) => sum + points.length, 0);
}

/** Length along the line, gaps between segments left out, metres. */
export function lengthM(line: Line): number {
  return line.reduce((sum, points) => sum + alongM(points), 0);
}

function alongM(points: readonly TrackPoint[]): number {
  let sum = 0;
  let before: Place | null = null;
  for (const point of points) {
    if (before !== null) sum += stepM(before, point);
    before = point;
  }
  return sum;
}

export function firstMs(line: Line): number | null {
  for (const points of line) for (const { timeMs } of points) if (timeMs !== null) return timeMs;
  return null;
}

export function lastMs(line: Line): number | null {
  for (const points of line.toReversed()) {
    for (let i = points.length - 1; i >= 0; i -= 1) {
      const timeMs = points[i]?.timeMs ?? null;
      if (timeMs !== null) return timeMs;
    }
  }
  return null;
}
