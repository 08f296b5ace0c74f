import type { Design } from '../../design.ts';
import type { Place } from '../../earth/geodesic.ts';
import { dateOf, daysBetween } from '../../earth/local-time.ts';
import { zoneOf } from '../../earth/zone.ts';
import { EngineError, type Note } from '../../errors.ts';
import { stepM } from '../../ingest/step-length.ts';
import type { Track } from '../../ingest/track.ts';
import { MS_PER_MIN } from '../../units.ts';
import { joinedWhereWalked } from './gaps.ts';
import { firstMs, fixesOf, type Line, lastMs } from './line.ts';
import { type Ride, splitAtRides } from './rides.ts';
import { withoutEndStands, withoutLongStands } from './stands.ts';
import { trustedClock } from './trusted-clock.ts';
import { withoutHome } from './without-home.ts';

function spanMin(fromMs: number | null, toMs: number | null): number {
  return fromMs === null || toMs === null ? 0 : (toMs - fromMs) / MS_PER_MIN;
}

const minutesText = (minutes: number) => `${Math.round(minutes)} min`;

function rideText({ minutes, lengthM }: Ride): string {
  return `${(lengthM / 1000).toFixed(1)} km (${minutesText(minutes)})`;
}

function rideNotes(before: Ride | null, after: Ride | null, between: readonly Ride[]): Note[] {
  const ends = [
    ...(before === null ? [] : [`${rideText(before)} at the start`]),
    ...(after === null ? [] : [`${rideText(after)} at the end`]),
  ];
  const notes: Note[] = [];
  if (ends.length > 0) {
    const text = `a drive was cut off, faster than people walk: ${ends.join(', ')}`;
    notes.push({ code: 'drive-cut', text });
  }
  if (between.length > 0) {
    const rides = between.map(rideText).join(', ');
    const text = `ridden, not walked (a lift or a shuttle), and left out of distance, climb and time: ${rides}`;
    notes.push({ code: 'ride-cut', text });
  }
  return notes;
}

/** Gaps that stay open: of the line, in metres. */
function gapNotes(lines: readonly Line[]): Note[] {
  const gapsM = lines.flatMap((line) =>
    line.slice(1).flatMap(([start], i) => {
      const end = line[i]?.at(-1);
      return end === undefined || start === undefined ? [] : [stepM(end, start)];
    }),
  );
  if (gapsM.length === 0) return [];
  const longest = `${Math.round(Math.max(...gapsM))} m`;
  const what = gapsM.length === 1 ? `a gap of ${longest}` : `${gapsM.length} gaps, the longest ${longest},`;
  const text = `${what} in the recording counts in neither distance nor climb nor time: more was walked than is counted`;
  return [{ code: 'gap', text }];
}

/** Whether the recording's own day, in the zone of the place, is another than stated; the stated one counts. */
function dateNotes(line: Line, date: string): Note[] {
  const [first] = fixesOf(line);
  if (first === undefined) return [];
  const recorded = dateOf(first.timeMs, zoneOf(first.point));
  if (Math.abs(daysBetween(recorded, date)) <= 1) return [];
  const text = `the recording is of ${recorded}, the outing of ${date}: the stated date counts; correct it if it is wrong`;
  return [{ code: 'date-differs', text }];
}

function nothingWalked(why: string): EngineError {
  return new EngineError('bad-outing', `${why}: enter the outing by hand`);
}

/**
 * What was walked of a recorded day, in order, each walk of one segment: with times that can be trusted, without the
 * ends near the meeting place, the device left running, drives and lifts, and split where nothing was recorded.
 * Everything that was left out is said in the notes of the first walk.
 *
 * @param date the stated day of the outing, `YYYY-MM-DD`
 * @param home the meeting place; `null`: not known, nothing is cut there
 * @throws EngineError `bad-outing` where nothing walked is left.
 */
export function walksOf(track: Track, date: string, home: Place | null, design: Design): Track[] {
  const limits = design.recording;
  const clock = trustedClock(track.segments, limits);
  const { line: away, notes: homeNotes } = withoutHome(clock.line, home, limits.homeRadiusM);

  const moved = withoutEndStands(joinedWhereWalked(away, limits), { start: true, end: true }, limits);
  if (moved.length === 0) {
    throw nothingWalked(
      `the recording never leaves a circle of ${limits.jitterM} m: a device left lying, or one hill or stair again and again`,
    );
  }
  const { walks: found, before, after, between } = splitAtRides(moved, limits);
  const days = found.map((line, i) =>
    withoutEndStands(line, { start: i === 0, end: i === found.length - 1 }, limits),
  );
  if (days.every((line) => line.length === 0)) throw nothingWalked('the recording is a ride from end to end');

  const atRestMin =
    spanMin(firstMs(away), lastMs(away)) -
    spanMin(firstMs(moved), lastMs(moved)) +
    found.reduce((sum, line, i) => {
      const left = days[i] ?? [];
      return sum + spanMin(firstMs(line), lastMs(line)) - spanMin(firstMs(left), lastMs(left));
    }, 0);
  const lines = days.map((line) => withoutLongStands(line, limits)).filter((line) => line.length > 0);
  const notes = [
    // What ingest says of gaps is said of a line to be planned with, and before some of them were joined.
    ...track.notes.filter(({ code }) => code !== 'gap'),
    ...clock.notes,
    ...homeNotes,
    ...rideNotes(before, after, between),
    ...(atRestMin >= 1
      ? [
          {
            code: 'left-running',
            text: `the device stayed at one place for ${minutesText(atRestMin)} at an end of the recording: cut off, and no stop of the walk`,
          },
        ]
      : []),
    ...gapNotes(lines),
    ...dateNotes(lines.flat(), date),
  ];
  return lines
    .flat()
    .map((points, i): Track => ({ ...track, segments: [points], notes: i === 0 ? notes : [] }));
}
