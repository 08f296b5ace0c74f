import { countNote, type Note } from '../notes.ts';
import { MS_PER_MIN } from '../units.ts';
import type { TrackPoint } from './track.ts';

// xsd:dateTime (W3C XML Schema Part 2, 3.2.7), plus the offset without a colon that some devices write.
const DATE_TIME =
  /^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,12})?(Z|[+-][0-9]{2}:?[0-9]{2})?$/;

/** No receiver kept time before 1970: an earlier year is a drop-out (design). */
const FIRST_YEAR = 1970;

/**
 * Reads a point's time, ms since 1970. Without a zone the instant is not known, and no zone is guessed;
 * `24:00:00` and leap seconds are unreadable.
 */
export function readTime(text: string): number | 'zoneUnknown' | 'unreadable' {
  const written = text.trim();
  const parts = DATE_TIME.exec(written);
  if (parts === null) return 'unreadable';
  const [, fraction, zone] = parts;
  const year = twoDigits(written, 0) * 100 + twoDigits(written, 2);
  const month = twoDigits(written, 5) - 1;
  const hour = twoDigits(written, 11);
  const minute = twoDigits(written, 14);
  const second = twoDigits(written, 17);
  const millisecond = fraction === undefined ? 0 : Math.floor(Number(`0${fraction}`) * 1000 + 1e-6);
  const localMs = Date.UTC(year, month, twoDigits(written, 8), hour, minute, second, millisecond);
  if (year < FIRST_YEAR || hour > 23 || minute > 59 || second > 59) return 'unreadable';
  // A day that its month has not falls into another month.
  if (new Date(localMs).getUTCMonth() !== month) return 'unreadable';
  if (zone === 'Z') return localMs;
  if (zone === undefined) return 'zoneUnknown';
  const offsetMin = twoDigits(zone, 1) * 60 + twoDigits(zone, zone.length - 2);
  // XML Schema allows offsets up to 14:00.
  if (twoDigits(zone, zone.length - 2) > 59 || offsetMin > 14 * 60) return 'unreadable';
  return localMs - (zone.startsWith('-') ? -offsetMin : offsetMin) * MS_PER_MIN;
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
  return [
    ...countNote('time-zone-unknown', tally.zoneUnknown),
    ...countNote('time-ignored', tally.unreadable),
    ...countNote('time-not-monotonic', countBackwards(segments)),
  ];
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
