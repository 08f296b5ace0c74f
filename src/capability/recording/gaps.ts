import type { Design } from '../../design.ts';
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
