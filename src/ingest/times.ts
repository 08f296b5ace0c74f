import type { Note } from '../notes.ts';
import { MS_PER_MIN } from '../units.ts';
import { daysInMonth } from './calendar.ts';
import type { TrackPoint } from './track.ts';

// xsd:dateTime (W3C XML Schema Part 2, 3.2.7), plus the offset without a colon that some devices write.
const DATE_TIME =
  /^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,12})?(Z|[+-][0-9]{2}:?[0-9]{2})?$/;

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
  const written = text.trim();
  const parts = DATE_TIME.exec(written);
  if (parts === null) return UNREADABLE;
  const [, fraction, zone] = parts;
  const year = twoDigits(written, 0) * 100 + twoDigits(written, 2);
  const month = twoDigits(written, 5);
  const day = twoDigits(written, 8);
  const hour = twoDigits(written, 11);
  const minute = twoDigits(written, 14);
  const second = twoDigits(written, 17);
  const dateExists =
    year >= FIRST_YEAR && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
  if (!dateExists || hour > 23 || minute > 59 || second > 59) return UNREADABLE;
  const millisecond = fraction === undefined ? 0 : Math.floor(Number(`0${fraction}`) * 1000 + 1e-6);
  const localMs = Date.UTC(year, month - 1, day, hour, minute, second, millisecond);
  if (zone === 'Z') return { state: 'known', timeMs: localMs };
  if (zone === undefined) return ZONE_UNKNOWN;
  const offsetHour = twoDigits(zone, 1);
  const offsetMinute = twoDigits(zone, zone.length - 2);
  // XML Schema allows offsets up to 14:00.
  if (offsetMinute > 59 || offsetHour * 60 + offsetMinute > 14 * 60) return UNREADABLE;
  const offsetMs = (offsetHour * 60 + offsetMinute) * MS_PER_MIN;
  return { state: 'known', timeMs: zone.startsWith('-') ? localMs + offsetMs : localMs - offsetMs };
}

/** A file may hold 100,000 times: digits at fixed places are read without a piece of text for each. */
function twoDigits(text: string, at: number): number {
  return (text.charCodeAt(at) - 48) * 10 + text.charCodeAt(at + 1) - 48;
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
      values: { count: tally.zoneUnknown },
    });
  }
  if (tally.unreadable > 0) {
    notes.push({
      code: 'time-ignored',
      values: { count: tally.unreadable },
    });
  }
  const backwards = countBackwards(segments);
  if (backwards > 0) {
    notes.push({
      code: 'time-not-monotonic',
      values: { count: backwards },
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
