import type { Design } from '../../design.ts';
import type { Place } from '../../earth/geodesic.ts';
import { dateOf, daysBetween } from '../../earth/local-time.ts';
import { zoneOf } from '../../earth/zone.ts';
import { EngineError } from '../../errors.ts';
import { INGEST_LIMITS } from '../../ingest/limits.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { Track } from '../../ingest/track.ts';
import { type Message, message } from '../../message.ts';
import type { Note } from '../../notes.ts';
import { MS_PER_MIN } from '../../units.ts';
import { joinedWhereWalked, openedAtHoles } from './gaps.ts';
import { firstMs, fixesOf, type Line, lastMs, lengthM } from './line.ts';
import { ofOneDate } from './one-date.ts';
import { type Ride, splitAtRides } from './rides.ts';
import { withoutSecondDevice } from './second-device.ts';
import { withoutEndStops, withoutLongStops } from './stops.ts';
import { withoutStrays } from './strays.ts';
import { trustedClock } from './trusted-clock.ts';
import { withoutHome } from './without-home.ts';

function spanMin(fromMs: number | null, toMs: number | null): number {
  return fromMs === null || toMs === null ? 0 : (toMs - fromMs) / MS_PER_MIN;
}

function rideNotes(start: Ride | null, end: Ride | null, rides: readonly Ride[]): Note[] {
  const notes: Note[] = [];
  if (start !== null || end !== null) notes.push({ code: 'drive-cut', values: { start, end } });
  if (rides.length > 0) notes.push({ code: 'ride-cut', values: { rides } });
  return notes;
}

function gapNotes(lines: readonly Line[]): Note[] {
  const gapsM = lines.flatMap((line) =>
    line.slice(1).flatMap(([start], i) => {
      const end = line[i]?.at(-1);
      return end === undefined || start === undefined ? [] : [stepM(end, start)];
    }),
  );
  if (gapsM.length === 0) return [];
  const values = { kind: 'recording', count: gapsM.length, longestM: Math.max(...gapsM) } as const;
  return [{ code: 'gap', values }];
}

/** Whether the recording's own day, in the zone of the place, is another than stated; the stated one counts. */
function dateNotes(line: Line, date: string): Note[] {
  const [first] = fixesOf(line);
  if (first === undefined) return [];
  const recorded = dateOf(first.timeMs, zoneOf(first.point));
  if (Math.abs(daysBetween(recorded, date)) <= 1) return [];
  return [{ code: 'date-differs', values: { recorded, stated: date } }];
}

/** Of what ingest says of the line to be planned with: gaps are told anew, coarse points only if those walked are so. */
function fileNotes(track: Track, lines: readonly Line[]): Note[] {
  const lengths = lines
    .flat()
    .flatMap((points) => ({ steps: points.length - 1, lengthM: lengthM([points]) }));
  const steps = lengths.reduce((sum, line) => sum + line.steps, 0);
  const walkedM = lengths.reduce((sum, line) => sum + line.lengthM, 0);
  const isCoarse = walkedM > INGEST_LIMITS.coarseSpacingM * steps;
  return track.notes.filter(({ code }) => code !== 'gap' && (code !== 'coarse-geometry' || isCoarse));
}

/** Without times a drive is a line like any other. */
function untimedNotes(line: Line): Note[] {
  return fixesOf(line).length > 0 ? [] : [{ code: 'rides-unseen', values: {} }];
}

function nothingWalked(why: string | Message): EngineError {
  return new EngineError('bad-outing', message`${why}: enter the outing by hand`);
}

/**
 * What was walked of a recorded day, in order, each walk of one segment: of one date, with times that can be trusted,
 * without the ends near the meeting place, the device left running, a second device, bad fixes, drives and lifts, and
 * split where nothing was recorded.
 * Everything that was left out is said in the notes of the first walk.
 *
 * @param date the stated day of the outing, `YYYY-MM-DD`
 * @param home the meeting place; `null`: not known, nothing is cut there
 * @throws EngineError `bad-outing` where nothing walked is left.
 */
export function walksOf(track: Track, date: string, home: Place | null, design: Design): Track[] {
  const limits = design.recording;
  const once = withoutSecondDevice(track.segments);
  const clock = trustedClock(once.line, limits);
  const day = ofOneDate(clock.line, date, limits);
  // Bad fixes first: one far off, recorded at the meeting place, must not end the cut there.
  const steady = withoutStrays(day.line, limits);
  const { line: away, notes: homeNotes } = withoutHome(steady.line, home, limits.homeRadiusM);

  const whole = openedAtHoles(joinedWhereWalked(away, limits), limits);
  const moved = withoutEndStops(whole, { start: true, end: true }, limits);
  if (moved.length === 0) {
    throw nothingWalked(
      message`the recording never leaves a circle of ${{ lengthM: limits.jitterM }}: a device left lying, or one hill or stair again and again`,
    );
  }
  const { walks: found, before, after, between } = splitAtRides(moved, limits);
  const days = found.map((line, i) =>
    withoutEndStops(line, { start: i === 0, end: i === found.length - 1 }, limits),
  );
  if (days.every((line) => line.length === 0)) throw nothingWalked('the recording is a ride from end to end');

  const atRestMin =
    spanMin(firstMs(away), lastMs(away)) -
    spanMin(firstMs(moved), lastMs(moved)) +
    found.reduce((sum, line, i) => {
      const left = days[i] ?? [];
      return sum + spanMin(firstMs(line), lastMs(line)) - spanMin(firstMs(left), lastMs(left));
    }, 0);
  const lines = days.map((line) => withoutLongStops(line, limits)).filter((line) => line.length > 0);
  const notes: Note[] = [
    ...fileNotes(track, lines),
    ...once.notes,
    ...clock.notes,
    ...untimedNotes(track.segments),
    ...day.notes,
    ...steady.notes,
    ...homeNotes,
    ...rideNotes(before, after, between),
    ...(atRestMin >= 1 ? [{ code: 'left-running', values: { minutes: atRestMin } } as const] : []),
    ...gapNotes(lines),
    ...dateNotes(lines.flat(), date),
  ];
  return lines
    .flat()
    .map((points, i): Track => ({ ...track, segments: [points], notes: i === 0 ? notes : [] }));
}
