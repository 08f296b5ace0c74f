import { at, last } from '../../array.ts';
import type { Design } from '../../design.ts';
import type { Place } from '../../earth/geodesic.ts';
import { stepM } from '../../ingest/step-length.ts';
import { MS_PER_MIN } from '../../units.ts';
import { isWalkable } from './gaps.ts';
import { type Line, onTheWay } from './line.ts';
import { measuredAlongM } from './measured-line.ts';

/**
 * The time between two points that have one, and its place and length along the measured line (`measuredLine`). A
 * drop-out or a long stand is neither moving nor a stop of the walk.
 */
export interface Interval {
  readonly middleM: number;
  readonly lengthM: number;
  readonly minutes: number;
  readonly kind: 'moving' | 'standing' | 'dropOut' | 'longStand';
}

interface Timed {
  readonly place: Place;
  readonly timeMs: number;
  /** Along the points as recorded, and along the line that is measured. */
  readonly atM: number;
  readonly measuredM: number;
}

/** Where the device was at a time between two fixes, on the straight line; the first or the last place outside them. */
function placeAt(timed: readonly Timed[], timeMs: number): Place | undefined {
  let low = 0;
  let high = timed.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at(timed, middle).timeMs < timeMs) low = middle + 1;
    else high = middle;
  }
  const to = timed[low];
  const from = timed[low - 1];
  if (to === undefined || from === undefined || to.timeMs <= timeMs) return to?.place;
  return onTheWay(from.place, to.place, (timeMs - from.timeMs) / (to.timeMs - from.timeMs));
}

/** Straight from where the device was half a window before to where it was half a window after, m/s. */
function smoothedMs(timed: readonly Timed[], from: Timed, to: Timed, smoothS: number): number {
  const middleMs = (from.timeMs + to.timeMs) / 2;
  const startMs = Math.max(at(timed, 0).timeMs, Math.min(from.timeMs, middleMs - smoothS * 500));
  const endMs = Math.min(last(timed).timeMs, Math.max(to.timeMs, middleMs + smoothS * 500));
  const start = placeAt(timed, startMs);
  const end = placeAt(timed, endMs);
  return start === undefined || end === undefined ? 0 : stepM(start, end) / ((endMs - startMs) / 1000);
}

function kindOf(
  timed: readonly Timed[],
  from: Timed,
  to: Timed,
  limits: Design['recording'],
): Interval['kind'] {
  const lengthM = to.atM - from.atM;
  const minutes = (to.timeMs - from.timeMs) / MS_PER_MIN;
  const isSlow = lengthM / (minutes * 60) < limits.standingMs;
  if (minutes > limits.dropOutMin) {
    // Across one place of rest, and too slow to walk: nothing was recorded because nothing moved.
    if (isSlow && lengthM <= 2 * limits.jitterM)
      return minutes > limits.longStandMin ? 'longStand' : 'standing';
    return isWalkable(lengthM, minutes, limits) ? 'moving' : 'dropOut';
  }
  return smoothedMs(timed, from, to, limits.smoothS) >= limits.standingMs ? 'moving' : 'standing';
}

/**
 * The timed intervals of a line, with their place along it as it is measured. Moving and standing are told apart by the speed over a
 * short window, so that the jitter of a device at rest is no walk. Times must rise strictly (`trustedClock`).
 */
export function intervalsOf(line: Line, limits: Design['recording']): Interval[] {
  const found: Interval[] = [];
  let atM = 0;
  let startM = 0;
  for (const points of line) {
    const alongM = measuredAlongM(points, limits);
    const timed: Timed[] = [];
    points.forEach((point, i) => {
      const before = points[i - 1];
      if (before !== undefined) atM += stepM(before, point);
      const measuredM = startM + at(alongM, i);
      if (point.timeMs !== null) timed.push({ place: point, timeMs: point.timeMs, atM, measuredM });
    });
    startM += last(alongM);
    timed.forEach((to, i) => {
      const from = timed[i - 1];
      if (from === undefined || to.timeMs <= from.timeMs) return;
      found.push({
        middleM: (from.measuredM + to.measuredM) / 2,
        lengthM: to.measuredM - from.measuredM,
        minutes: (to.timeMs - from.timeMs) / MS_PER_MIN,
        kind: kindOf(timed, from, to, limits),
      });
    });
  }
  return found;
}
