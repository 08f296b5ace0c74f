import type { Note } from '../errors.ts';
import { MS_PER_MIN } from '../units.ts';
import { daysInMonth } from './calendar.ts';
import type { TrackPoint } from './track.ts';

// xsd:dateTime (W3C XML Schema Part 2, 3.2.7), plus the offset without a colon that some devices write.
const DATE_TIME =
  /^([0-9]{4})-([0-9]{2})-([0-9]{2})T([0-9]{2}):([0-9]{2}):([0-9]{2})(\.[0-9]{1,12})?(?:(Z)|([+-])([0-9]{2}):?([0-9]{2}))?$/;

/** No receiver kept time before 1970: an earlier year is a drop-out (design). */
const FIRST_YEAR = 1970;

export type TimeReading =
  | { readonly state: 'known'; readonly timeMs: number }
  | { readonly state: 'zoneUnknown' }
  | { readonly state: 'unreadable' };

const UNREADABLE: TimeReading = { state: 'unreadable' };
const ZONE_UNKNOWN: TimeReading = { state: 'zoneUnknown' };

/**
 * Reads a point's time. Without a zone the instant is not known, and no zone is guessed;
 * `24:00:00` and leap seconds are unreadable.
 */
export function readTime(text: string): TimeReading {
  const parts = DATE_TIME.exec(text.trim());
  if (parts === null) return UNREADABLE;
  const year = Number(parts[1]);
  const month = Number(parts[2]);
  const day = Number(parts[3]);
  const hour = Number(parts[4]);
  const minute = Number(parts[5]);
  const second = Number(parts[6]);
  const dateExists =
    year >= FIRST_YEAR && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
  if (!dateExists || hour > 23 || minute > 59 || second > 59) return UNREADABLE;
  const millisecond = parts[7] === undefined ? 0 : Math.floor(Number(`0${parts[7]}`) * 1000 + 1e-6);
  const localMs = Date.UTC(year, month - 1, day, hour, minute, second, millisecond);
  if (parts[8] !== undefined) return { state: 'known', timeMs: localMs };
  if (parts[9] === undefined) return ZONE_UNKNOWN;
  const offsetHour = Number(parts[10]);
  const offsetMinute = Number(parts[11]);
  // XML Schema allows offsets up to 14:00.
  if (offsetMinute > 59 || offsetHour * 60 + offsetMinute > 14 * 60) return UNREADABLE;
  const offsetMs = (offsetHour * 60 + offsetMinute) * MS_PER_MIN;
  return { state: 'known', timeMs: parts[9] === '-' ? localMs + offsetMs : localMs - offsetMs };
}

export interface TimeTally {
  readonly zoneUnknown: number;
  readonly unreadable: number;
}

/** What to tell about the times of one track. */
export function timeNotes(tally: TimeTally, segments: readonly (readonly TrackPoint[])[]): Note[] {
  const notes: Note[] = [];
  if (tally.zoneUnknown > 0) {
    notes.push({
      code: 'time-zone-unknown',
      text: `${tally.zoneUnknown} point times have no time zone and were not used. Export with UTC times (ending in Z).`,
    });
  }
  if (tally.unreadable > 0) {
    notes.push({
      code: 'time-ignored',
      text: `${tally.unreadable} point times could not be read and were not used.`,
    });
  }
  const backwards = countBackwards(segments);
  if (backwards > 0) {
    notes.push({
      code: 'time-not-monotonic',
      text: `Time runs backwards at ${backwards} points. The order of the file was kept; durations cannot be trusted.`,
    });
  }
  return notes;
}

function countBackwards(segments: readonly (readonly TrackPoint[])[]): number {
  let last: number | null = null;
  let backwards = 0;
  for (const segment of segments) {
    for (const { timeMs } of segment) {
      if (timeMs === null) continue;
      if (last !== null && timeMs < last) backwards += 1;
      last = timeMs;
    }
  }
  return backwards;
}
