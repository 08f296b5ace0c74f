import type { TrackPoint } from '../../ingest/track.ts';
import { fixesOf, type Line, lengthM, type NotedLine, overlapShare, type TimeSpan } from './line.ts';

/** Segments with so much of the shorter's time in common are one walk, recorded twice (design). */
const COMMON_SHARE = 0.5;
/** Times at either end of a segment that are not looked at: a jump of the clock must not make it last for years. */
const END_SHARE = 0.1;

/** When a segment was recorded, without the times at its ends; `null` without a clock. */
function spanOf(points: readonly TrackPoint[]): TimeSpan | null {
  const times = fixesOf([points])
    .map(({ timeMs }) => timeMs)
    .sort((a, b) => a - b);
  const cut = Math.floor(times.length * END_SHARE);
  const [fromMs, toMs] = [times[cut], times[times.length - 1 - cut]];
  return fromMs === undefined || toMs === undefined || toMs <= fromMs ? null : { fromMs, toMs };
}

function isSameTime(one: readonly TrackPoint[], other: readonly TrackPoint[]): boolean {
  const [a, b] = [spanOf(one), spanOf(other)];
  return a !== null && b !== null && overlapShare(a, b) >= COMMON_SHARE;
}

/**
 * The line without segments that were recorded while another, longer one was: two devices in one file walked the way
 * once. The order of the rest stays.
 */
export function withoutSecondDevice(line: Line): NotedLine {
  if (line.length < 2) return { line, notes: [] };
  const kept: (readonly TrackPoint[])[] = [];
  for (const points of line.toSorted((a, b) => lengthM([b]) - lengthM([a]))) {
    if (!kept.some((longer) => isSameTime(longer, points))) kept.push(points);
  }
  if (kept.length === line.length) return { line, notes: [] };
  const values = { by: 'segments', count: line.length - kept.length } as const;
  return {
    line: line.filter((points) => kept.includes(points)),
    notes: [{ code: 'second-recording', values }],
  };
}
