import { boundingBox } from '../earth/line.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { countNote, type Note, noteIf } from '../notes.ts';
import { roundCoordinate } from './decimal.ts';
import { atPointer } from './json-text.ts';
import { dropBadFixes } from './jumps.ts';
import { INGEST_LIMITS } from './limits.ts';
import { pointCount, pointPlace, type RawPoint, type RawTrack, type WorkSegment } from './raw-track.ts';
import { stepM, stepsM } from './step-length.ts';
import { timeNotes } from './times.ts';
import type { Track } from './track.ts';

/**
 * Turns one raw route of either format into a line that nothing downstream has to check again:
 * false positions out, repeats out, longitudes unwrapped, small breaks closed, limits kept.
 *
 * @param fastestMs see `dropBadFixes`
 * @throws EngineError `no-line`, `zero-length`, `bad-coordinate`, `too-many-points`,
 * `implausible-jump` or `route-size`.
 */
export function repairTrack(
  track: RawTrack,
  fastestMs: number | null = null,
): Pick<Track, 'segments' | 'notes'> {
  const given = track.segments.map((raw): WorkSegment => ({ raw, points: raw.points }));
  if (!given.some(({ points }) => points.length >= 2)) throw noLine(track);
  const positions = withoutZeroPoints(given);
  unwrapLongitudes(positions);
  const distinct = positions.map(withoutRepeats);
  checkPointCount(track, pointCount(distinct));
  const { segments: plausible, dropped, longLegs } = dropBadFixes(track.kind, distinct, fastestMs);
  if (dropped > 0) unwrapLongitudes(plausible);
  const lines = dropped > 0 ? plausible.map(withoutRepeats) : plausible;

  const whole = lines.filter(({ points }) => points.length >= 2);
  if (whole.length === 0) throw zeroLength(track);
  const joined = joinSegments(whole);
  // A join may bring two points at one place together.
  const segments = joined.segments.map(distinctPoints);
  const notes = [
    ...countNote('zero-points-dropped', pointCount(given) - pointCount(positions)),
    ...countNote('duplicates-removed', pointCount(positions) - pointCount(distinct)),
    ...countNote('implausible-jump', dropped),
    ...noteIf(longLegs > 0, { code: 'long-leg', values: { count: longLegs, overM: INGEST_LIMITS.jumpM } }),
    ...countNote('segment-dropped', lines.length - whole.length),
    ...joined.notes,
    ...sizeNotes(track, segments),
    ...timeNotes(track.times, segments),
  ];
  return { segments, notes };
}

function noLine(track: RawTrack): EngineError {
  const found = pointCount(track.segments);
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

const isZero = ({ lonDeg, latDeg }: RawPoint): boolean => lonDeg === 0 && latDeg === 0;

/** Exactly 0,0 is what a receiver writes without a fix. */
function withoutZeroPoints(work: readonly WorkSegment[]): readonly WorkSegment[] {
  const zeros = work.flatMap((segment) => segment.points.filter(isZero).map((point) => ({ segment, point })));
  const [first] = zeros;
  if (first === undefined) return work;
  const total = pointCount(work);
  if (zeros.length > total * INGEST_LIMITS.zeroShare) {
    const pointer = pointPlace(first.segment, first.point);
    throw new EngineError(
      'bad-coordinate',
      message`${zeros.length} of ${total} points lie at 0,0, the first at ${pointer}: the receiver had no fix. Remove them.`,
      { pointer, found: zeros.length },
    );
  }
  return work.map(({ raw, points }) => ({ raw, points: points.filter((point) => !isZero(point)) }));
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

/** Of points in a row at one place the first stays; it takes over what it lacks. */
function distinctPoints(points: readonly RawPoint[]): readonly RawPoint[] {
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

const withoutRepeats = ({ raw, points }: WorkSegment): WorkSegment => ({
  raw,
  points: distinctPoints(points),
});

function checkPointCount(track: RawTrack, found: number): void {
  const limit = INGEST_LIMITS.pointsPerRoute;
  if (found <= limit) return;
  throw new EngineError(
    'too-many-points',
    message`The line ${atPointer(track.pointer)} has ${found} points; at most ${limit} are read. Thin it to one point every ${{ few: 'metres' }}.`,
    { pointer: track.pointer, limit, found },
  );
}

/**
 * Joins segments whose ends lie within 50 m. Wider gaps stay open: what lies between was not
 * recorded and is counted in neither distance nor climb, which a note says, loudly beyond 2 km.
 */
function joinSegments(work: readonly WorkSegment[]): { segments: RawPoint[][]; notes: readonly Note[] } {
  const { gapJoinM, gapLoudM } = INGEST_LIMITS;
  const segments: RawPoint[][] = [];
  const gapsM: number[] = [];
  for (const { points } of work) {
    const before = segments.at(-1);
    const [end, start] = [before?.at(-1), points[0]];
    const gapM = end === undefined || start === undefined ? null : stepM(end, start);
    if (gapM !== null && gapM > gapJoinM) gapsM.push(gapM);
    if (before === undefined || gapM === null || gapM > gapJoinM) segments.push([...points]);
    else for (const point of points) before.push(point);
  }
  const joins = work.length - segments.length;
  const small = gapsM.filter((gapM) => gapM <= gapLoudM);
  const large = gapsM.filter((gapM) => gapM > gapLoudM);
  const measured = (gaps: readonly number[]) => ({ count: gaps.length, longestM: Math.max(...gaps) });
  const notes = [
    ...noteIf(joins > 0, { code: 'segments-joined', values: { count: joins, mostM: gapJoinM } }),
    ...noteIf(large.length > 0, {
      code: 'gap',
      values: { kind: 'large', ...measured(large), overM: gapLoudM },
    }),
    ...noteIf(small.length > 0, {
      code: 'gap',
      values: { kind: 'small', ...measured(small), overM: gapJoinM, mostM: gapLoudM },
    }),
  ];
  return { segments, notes };
}

function sizeNotes(track: RawTrack, lines: readonly (readonly RawPoint[])[]): Note[] {
  const { routeMaxM, routeShortM, boxMaxDeg, coarseSpacingM } = INGEST_LIMITS;
  const lengths = stepsM(lines);
  const lengthM = lengths.reduce((sum, step) => sum + step, 0);
  const { westDeg, eastDeg, southDeg, northDeg } = boundingBox(lines.flat());
  // Degrees of latitude, so that a short line near a pole is not a wide one.
  const narrow = Math.cos((Math.min(90, Math.max(Math.abs(southDeg), Math.abs(northDeg))) * Math.PI) / 180);
  const spanDeg = Math.max((eastDeg - westDeg) * narrow, northDeg - southDeg);
  if (lengthM > routeMaxM) throw tooLong(track, lengthM);
  if (spanDeg > boxMaxDeg) {
    throw new EngineError(
      'route-size',
      message`The line ${atPointer(track.pointer)} spans ${spanDeg.toFixed(1)} degrees; a route spans at most ${boxMaxDeg}. Split it into days.`,
      { pointer: track.pointer, limit: boxMaxDeg, found: spanDeg },
    );
  }
  const spacingM = lengthM / lengths.length;
  return [
    ...noteIf(lengthM < routeShortM, { code: 'short-route', values: { lengthM } }),
    ...noteIf(spacingM > coarseSpacingM, { code: 'coarse-geometry', values: { spacingM } }),
  ];
}

function tooLong(track: RawTrack, lengthM: number): EngineError {
  const { routeMaxM } = INGEST_LIMITS;
  return new EngineError(
    'route-size',
    message`The line ${atPointer(track.pointer)} is ${{ lengthM, kmDecimals: 0 }} long; at most ${{ lengthM: routeMaxM, kmDecimals: 0 }} are read. Split it into days.`,
    { pointer: track.pointer, limit: routeMaxM, found: Math.round(lengthM) },
  );
}
