import { at, upperMedian } from '../../array.ts';
import type { Design } from '../../design.ts';
import type { Place } from '../../earth/geodesic.ts';
import { stepM } from '../../ingest/step-length.ts';
import { MS_PER_MIN } from '../../units.ts';
import { type Fix, fixesOf, type Line, mapPoints, slice, thinned } from './line.ts';

/** The device stayed near one place: the points at which it came and went, counted through the line. */
export interface Stop {
  readonly from: number;
  readonly to: number;
  readonly minutes: number;
  /** The recording begins, or ends, in it. */
  readonly atStart: boolean;
  readonly atEnd: boolean;
}

/** Fixes are looked at this far apart (design: enough to tell a stop of minutes). */
const EVERY_S = 30;
/** Share of the fixes of a stop that may lie farther off: bad fixes of a receiver under a roof (design). */
const STRAY_SHARE = 0.1;

/** The middle of the fixes `i` to `j` where they all stay near it; `null` where they do not. */
function centreOf(fixes: readonly Fix[], i: number, j: number, jitterM: number): Place | null {
  const near = fixes.slice(i, j + 1).map(({ point }) => point);
  const centre = {
    lonDeg: upperMedian(near.map(({ lonDeg }) => lonDeg)),
    latDeg: upperMedian(near.map(({ latDeg }) => latDeg)),
  };
  let stray = Math.floor(STRAY_SHARE * near.length);
  for (const point of near) {
    if (stepM(centre, point) <= jitterM) continue;
    if (stray === 0) return null;
    stray -= 1;
  }
  return centre;
}

/** From the fix at `start` on in steps of `step`: the first that is near the centre, and on while they come nearer. */
function reached(
  fixes: readonly Fix[],
  start: number,
  step: 1 | -1,
  centre: Place,
  jitterM: number,
): Fix | undefined {
  const offM = (i: number) => {
    const point = fixes[i]?.point;
    return point === undefined ? Number.POSITIVE_INFINITY : stepM(centre, point);
  };
  let i = start;
  while (fixes[i] !== undefined && offM(i) > jitterM) i += step;
  while (offM(i + step) < offM(i)) i += step;
  return fixes[i];
}

/** Where the device stayed within `jitterM` of one place for at least `standMin`. */
export function stopsOf(line: Line, { jitterM, standMin }: Design['recording']): Stop[] {
  const fixes = fixesOf(line);
  const sparse = thinned(fixes, EVERY_S);
  const last = sparse.length - 1;

  const found: { i: number; j: number; first: Place; last: Place }[] = [];
  if (last < 1) return [];
  const endMs = at(sparse, last).timeMs;
  const untilMs = (i: number) => at(sparse, i).timeMs + standMin * MS_PER_MIN;
  let j = 0;
  for (let i = 0; i < last && untilMs(i) <= endMs; i += 1) {
    while (j < last && at(sparse, j).timeMs < untilMs(i)) j += 1;
    // The last window reaches to the last fix, so that no remainder hides a stop at the end.
    if (untilMs(i + 1) > endMs) j = last;
    const centre = centreOf(sparse, i, j, jitterM);
    if (centre === null) continue;
    const open = found.at(-1);
    if (open !== undefined && i <= open.j) Object.assign(open, { j, last: centre });
    else found.push({ i, j, first: centre, last: centre });
  }
  return found.flatMap((stop) => {
    const from = reached(fixes, fixes.indexOf(at(sparse, stop.i)), 1, stop.first, jitterM);
    const to = reached(fixes, fixes.indexOf(at(sparse, stop.j)), -1, stop.last, jitterM);
    if (from === undefined || to === undefined || to.index <= from.index) return [];
    const minutes = (to.timeMs - from.timeMs) / MS_PER_MIN;
    return [{ from: from.index, to: to.index, minutes, atStart: stop.i === 0, atEnd: stop.j === last }];
  });
}

/** Whether nothing was recorded between two fixes for as long as a stop takes, and nobody walked far meanwhile. */
function isSlowHop(from: Fix | undefined, to: Fix | undefined, limits: Design['recording']): boolean {
  if (from === undefined || to === undefined) return false;
  const minutes = (to.timeMs - from.timeMs) / MS_PER_MIN;
  return minutes >= limits.standMin && stepM(from.point, to.point) < limits.standingMs * 60 * minutes;
}

interface Ends {
  readonly start: boolean;
  readonly end: boolean;
}

/** The line without a first or last hop in which the device lay still until it was carried off. */
function withoutEndHops(line: Line, ends: Ends, limits: Design['recording']): Line {
  const fixes = fixesOf(line);
  const start = ends.start && isSlowHop(fixes[0], fixes[1], limits) ? fixes[1] : undefined;
  const end = ends.end && isSlowHop(fixes.at(-2), fixes.at(-1), limits) ? fixes.at(-2) : undefined;
  return slice(line, start?.index ?? 0, end?.index ?? Number.POSITIVE_INFINITY);
}

/**
 * The line without the stops in which the recording begins and ends: a device left running. Empty where the whole of
 * it is one stop.
 */
export function withoutEndStops(whole: Line, ends: Ends, limits: Design['recording']): Line {
  const line = withoutEndHops(whole, ends, limits);
  const stops = stopsOf(line, limits);
  const start = ends.start ? stops.find(({ atStart }) => atStart) : undefined;
  const end = ends.end ? stops.find(({ atEnd }) => atEnd) : undefined;
  if (start !== undefined && start === end) return [];
  return slice(line, start?.to ?? 0, end?.from ?? Number.POSITIVE_INFINITY);
}

/**
 * The line with each stop of over `longStandMin` as one step, so that the jitter of hours does not count as distance.
 */
export function withoutLongStops(line: Line, limits: Design['recording']): Line {
  const long = stopsOf(line, limits).filter(({ minutes }) => minutes > limits.longStandMin);
  if (long.length === 0) return line;
  const isInside = (index: number) => long.some(({ from, to }) => index > from && index < to);
  return mapPoints(line, (point, i) => (isInside(i) ? null : point)).filter(({ length }) => length >= 2);
}
