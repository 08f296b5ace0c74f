import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import type { Note } from '../notes.ts';
import { roundCoordinate } from './decimal.ts';
import { joinSegments } from './gaps.ts';
import { atPointer } from './json-text.ts';
import { dropBadFixes } from './jumps.ts';
import { INGEST_LIMITS } from './limits.ts';
import { pointPlace, type RawPoint, type RawTrack, type WorkSegment } from './raw-track.ts';
import { stepM } from './step-length.ts';
import { timeNotes } from './times.ts';
import type { TrackPoint } from './track.ts';

export interface RepairedLine {
  readonly segments: readonly (readonly TrackPoint[])[];
  readonly notes: readonly Note[];
}

/**
 * Turns one raw route of either format into a line that nothing downstream has to check again:
 * false positions out, repeats out, longitudes unwrapped, small breaks closed, limits kept.
 *
 * @param fastestMs see `dropBadFixes`
 * @throws EngineError `no-line`, `zero-length`, `bad-coordinate`, `too-many-points`,
 * `implausible-jump` or `route-size`.
 */
export function repairTrack(track: RawTrack, fastestMs: number | null = null): RepairedLine {
  const notes: Note[] = [];
  let work: readonly WorkSegment[] = track.segments.map((raw) => ({ raw, points: raw.points }));
  if (!work.some(({ points }) => points.length >= 2)) throw noLine(track);

  work = dropZeroPoints(work, notes);
  unwrapLongitudes(work);
  work = dropRepeats(work, notes);
  checkPointCount(track, work);
  const { segments, dropped, longLegs } = dropBadFixes(track.kind, work, fastestMs);
  if (dropped > 0) {
    notes.push({
      code: 'implausible-jump',
      values: { count: dropped },
    });
  }
  if (longLegs > 0) {
    notes.push({
      code: 'long-leg',
      values: { count: longLegs, overM: INGEST_LIMITS.jumpM },
    });
  }
  if (dropped > 0) {
    unwrapLongitudes(segments);
    work = dropRepeats(segments, []);
  }

  const whole = work.filter(({ points }) => points.length >= 2);
  if (whole.length < work.length) {
    notes.push({
      code: 'segment-dropped',
      values: { count: work.length - whole.length },
    });
  }
  if (whole.length === 0) throw zeroLength(track);
  const joined = joinSegments(whole.map(({ points }) => points));
  // A join may bring two points at one place together.
  const lines = joined.segments.map((points) => withoutRepeats(points));
  notes.push(...joined.notes, ...sizeNotes(track, lines), ...timeNotes(track.times, lines));
  return { segments: lines, notes };
}

function noLine(track: RawTrack): EngineError {
  const found = track.segments.reduce((sum, { points }) => sum + points.length, 0);
  const only = track.segments.length === 1 ? track.segments[0] : undefined;
  const pointer = only?.pointer ?? track.pointer;
  return new EngineError(
    'no-line',
    message`The line ${atPointer(pointer)} holds ${found} ${found === 1 ? 'point' : 'points'} and no two in a row. A route needs at least two.`,
    { pointer, found },
  );
}

function zeroLength(track: RawTrack): EngineError {
  return new EngineError(
    'zero-length',
    message`All points of the line ${atPointer(track.pointer)} lie at one place. Export the walked line itself.`,
    { pointer: track.pointer },
  );
}

/** Exactly 0,0 is what a receiver writes without a fix. */
function dropZeroPoints(work: readonly WorkSegment[], notes: Note[]): readonly WorkSegment[] {
  let zeros = 0;
  let total = 0;
  let first: string | null = null;
  for (const segment of work) {
    for (const point of segment.points) {
      total += 1;
      if (!isZero(point)) continue;
      zeros += 1;
      first ??= pointPlace(segment, point);
    }
  }
  if (first === null) return work;
  if (zeros > total * INGEST_LIMITS.zeroShare) {
    throw new EngineError(
      'bad-coordinate',
      message`${zeros} of ${total} points lie at 0,0, the first at ${first}: the receiver had no fix. Remove them.`,
      { pointer: first, found: zeros },
    );
  }
  notes.push({
    code: 'zero-points-dropped',
    values: { count: zeros },
  });
  return work.map((segment) => ({ ...segment, points: segment.points.filter((point) => !isZero(point)) }));
}

function isZero(point: RawPoint): boolean {
  return point.lonDeg === 0 && point.latDeg === 0;
}

/** Moves longitudes by whole turns so that neighbours never differ by more than 180 degrees. */
function unwrapLongitudes(work: readonly WorkSegment[]): void {
  let lastDeg: number | null = null;
  for (const { points } of work) {
    for (const point of points) {
      if (lastDeg !== null && Math.abs(point.lonDeg - lastDeg) > 180) {
        const turns = Math.round((lastDeg - point.lonDeg) / 360);
        point.lonDeg = roundCoordinate(point.lonDeg + 360 * turns);
      }
      lastDeg = point.lonDeg;
    }
  }
}

function dropRepeats(work: readonly WorkSegment[], notes: Note[]): readonly WorkSegment[] {
  let repeats = 0;
  const kept = work.map((segment): WorkSegment => {
    const points = withoutRepeats(segment.points);
    repeats += segment.points.length - points.length;
    return { ...segment, points };
  });
  if (repeats > 0) {
    notes.push({
      code: 'duplicates-removed',
      values: { count: repeats },
    });
  }
  return kept;
}

/** Of points in a row at one place the first stays; it takes over what it lacks. */
function withoutRepeats(points: readonly RawPoint[]): readonly RawPoint[] {
  const kept: RawPoint[] = [];
  for (const point of points) {
    const last = kept.at(-1);
    if (last !== undefined && last.lonDeg === point.lonDeg && last.latDeg === point.latDeg) {
      last.elevationM ??= point.elevationM;
      last.timeMs ??= point.timeMs;
    } else {
      kept.push(point);
    }
  }
  return kept;
}

function checkPointCount(track: RawTrack, work: readonly WorkSegment[]): void {
  const limit = INGEST_LIMITS.pointsPerRoute;
  const found = work.reduce((sum, { points }) => sum + points.length, 0);
  if (found <= limit) return;
  throw new EngineError(
    'too-many-points',
    message`The line ${atPointer(track.pointer)} has ${found} points; at most ${limit} are read. Thin it to one point every ${{ few: 'metres' }}.`,
    { pointer: track.pointer, limit, found },
  );
}

function sizeNotes(track: RawTrack, lines: readonly (readonly RawPoint[])[]): Note[] {
  const { routeMaxM, routeShortM, boxMaxDeg, coarseSpacingM } = INGEST_LIMITS;
  let lengthM = 0;
  let steps = 0;
  let [west, east] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let [south, north] = [west, east];
  for (const points of lines) {
    let last: RawPoint | null = null;
    for (const point of points) {
      if (last !== null) {
        lengthM += stepM(last, point);
        steps += 1;
      }
      last = point;
      west = Math.min(west, point.lonDeg);
      east = Math.max(east, point.lonDeg);
      south = Math.min(south, point.latDeg);
      north = Math.max(north, point.latDeg);
    }
  }
  if (lengthM > routeMaxM) throw tooLong(track, lengthM);
  if (east - west > boxMaxDeg || north - south > boxMaxDeg) {
    const found = Math.max(east - west, north - south);
    throw new EngineError(
      'route-size',
      message`The line ${atPointer(track.pointer)} spans ${found.toFixed(1)} degrees; a route spans at most ${boxMaxDeg}. Split it into days.`,
      { pointer: track.pointer, limit: boxMaxDeg, found },
    );
  }
  const notes: Note[] = [];
  if (lengthM < routeShortM) {
    notes.push({
      code: 'short-route',
      values: { lengthM },
    });
  }
  if (lengthM / steps > coarseSpacingM) {
    notes.push({
      code: 'coarse-geometry',
      values: { spacingM: lengthM / steps },
    });
  }
  return notes;
}

function tooLong(track: RawTrack, lengthM: number): EngineError {
  const { routeMaxM } = INGEST_LIMITS;
  return new EngineError(
    'route-size',
    message`The line ${atPointer(track.pointer)} is ${{ lengthM, kmDecimals: 0 }} long; at most ${{ lengthM: routeMaxM, kmDecimals: 0 }} are read. Split it into days.`,
    { pointer: track.pointer, limit: routeMaxM, found: Math.round(lengthM) },
  );
}
