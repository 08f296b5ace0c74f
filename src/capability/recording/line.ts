import { at } from '../../array.ts';
import type { Place } from '../../earth/geodesic.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { TrackPoint } from '../../ingest/track.ts';
import type { Note } from '../../notes.ts';

/** The segments of a track. Points are counted through all of them, from 0. */
export type Line = readonly (readonly TrackPoint[])[];

export interface NotedLine {
  readonly line: Line;
  readonly notes: readonly Note[];
}

export interface TimeSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The time in common, as a share of the shorter of the two; below 0 where they lie apart. */
export const overlapShare = (a: TimeSpan, b: TimeSpan): number =>
  (Math.min(a.toMs, b.toMs) - Math.max(a.fromMs, b.fromMs)) /
  Math.max(1, Math.min(a.toMs - a.fromMs, b.toMs - b.fromMs));

export interface Fix {
  readonly index: number;
  readonly segment: number;
  readonly point: TrackPoint;
  readonly timeMs: number;
}

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

/** Each point changed, by its place in the line; `null`: left out. */
export function mapPoints(line: Line, change: (point: TrackPoint, index: number) => TrackPoint | null): Line {
  let index = -1;
  return line.map((points) =>
    points.flatMap((point) => {
      index += 1;
      return change(point, index) ?? [];
    }),
  );
}

/** The place at a share of the straight way from one place to another near it. */
export const onTheWay = (from: Place, to: Place, share: number): Place => ({
  lonDeg: from.lonDeg + share * (to.lonDeg - from.lonDeg),
  latDeg: from.latDeg + share * (to.latDeg - from.latDeg),
});

/** Length along the line, gaps between segments left out, metres. */
export function lengthM(line: Line): number {
  let sum = 0;
  for (const points of line) {
    points.forEach((point, i) => {
      if (i > 0) sum += stepM(at(points, i - 1), point);
    });
  }
  return sum;
}

const isTimed = ({ timeMs }: TrackPoint): boolean => timeMs !== null;

export const firstMs = (line: Line): number | null =>
  line.find((points) => points.some(isTimed))?.find(isTimed)?.timeMs ?? null;

export const lastMs = (line: Line): number | null =>
  line.findLast((points) => points.some(isTimed))?.findLast(isTimed)?.timeMs ?? null;
