import { at, upperMedian } from '../../array.ts';
import type { Design } from '../../design.ts';
import { INGEST_LIMITS } from '../../ingest/limits.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { TrackPoint } from '../../ingest/track.ts';
import { MS_PER_MIN } from '../../units.ts';
import type { Line } from './line.ts';

/** Whether somebody may have walked so far in the time: short, and neither faster nor slower than people walk. */
export function isWalkable(lengthM: number, minutes: number, limits: Design['recording']): boolean {
  const speedMs = lengthM / (minutes * 60);
  return lengthM <= limits.dropOutM && speedMs >= limits.standingMs && speedMs <= limits.walkMostMs;
}

/**
 * The line with its segments joined where the group walked from the end of one to the start of the next while nothing
 * was recorded. Wider gaps, and those without a clock, stay open.
 */
export function joinedWhereWalked(line: Line, limits: Design['recording']): Line {
  const joined: TrackPoint[][] = [];
  for (const points of line) {
    const before = joined.at(-1);
    const end = before?.at(-1);
    const [start] = points;
    const fromMs = end?.timeMs ?? null;
    const toMs = start?.timeMs ?? null;
    const isOne =
      end !== undefined &&
      start !== undefined &&
      fromMs !== null &&
      toMs !== null &&
      toMs > fromMs &&
      isWalkable(stepM(end, start), (toMs - fromMs) / MS_PER_MIN, limits);
    if (isOne && before !== undefined) for (const point of points) before.push(point);
    else joined.push([...points]);
  }
  return joined;
}

/**
 * The line opened where nothing was recorded over a long step that nobody is known to have walked: longer than a
 * candidate route may hold, at a walking pace or slower. Faster ones are rides (`splitAtRides`).
 */
export function openedAtHoles(line: Line, limits: Design['recording']): Line {
  const { jumpM, jumpTimesSpacing } = INGEST_LIMITS;
  const steps = line.flatMap((points) => points.slice(1).map((to, i) => stepM(at(points, i), to)));
  const medianM = steps.length === 0 ? 0 : upperMedian(steps);
  const mostM = Math.max(jumpM, jumpTimesSpacing * medianM);
  if (steps.every((length) => length <= mostM)) return line;
  return line.flatMap((points) => {
    const parts: TrackPoint[][] = [];
    points.forEach((to, i) => {
      const from = points[i - 1];
      const part = parts.at(-1);
      const isHole = from !== undefined && stepM(from, to) > mostM && !isRidden(from, to, limits);
      if (part === undefined || isHole) parts.push([to]);
      else part.push(to);
    });
    return parts.filter((part) => part.length >= 2);
  });
}

/** A step over which nothing was recorded, longer than a drop-out and faster than a group walks. */
export function isRidden(from: TrackPoint, to: TrackPoint, limits: Design['recording']): boolean {
  if (from.timeMs === null || to.timeMs === null) return false;
  const lengthM = stepM(from, to);
  return lengthM > limits.dropOutM && lengthM > (limits.walkMostMs * (to.timeMs - from.timeMs)) / 1000;
}
