/** Clock and calendar of a place. The only file that knows luxon. */
import { LRUCache } from 'lru-cache';
import { DateTime } from 'luxon';
import { MIN_PER_H, MS_PER_DAY, MS_PER_MIN } from '../units.ts';

const DATE = /^\d{4}-\d{2}-\d{2}$/;
const CLOCK = /^([01]\d|2[0-3]):[0-5]\d$/;

const two = (value: number): string => (value < 10 ? `0${value}` : String(value));

/** Answers kept of each kind (design): some hundred bytes each. A page asks for the same few again and again. */
const KEPT = 5000;

const dayNumbers = new LRUCache<string, number>({ max: KEPT });

/** Days since 1970 of a calendar day; luxon takes a hundred times as long, and outings are sorted by it. */
function dayNumber(date: string): number {
  const known = dayNumbers.get(date);
  if (known !== undefined) return known;
  const ms = DATE.test(date) ? Date.parse(`${date}T00:00:00Z`) : Number.NaN;
  // Date takes 30 February for 2 March.
  if (!Number.isFinite(ms) || new Date(ms).toISOString().slice(0, 10) !== date) {
    throw new RangeError(`'${date}' is not a date YYYY-MM-DD`);
  }
  dayNumbers.set(date, ms / MS_PER_DAY);
  return ms / MS_PER_DAY;
}

function utcDay(date: string): DateTime {
  const day = DateTime.fromISO(date, { zone: 'utc' });
  if (!DATE.test(date) || !day.isValid) throw new RangeError(`'${date}' is not a date YYYY-MM-DD`);
  return day;
}

function moment(epochMs: number, zone: string): DateTime {
  const time = DateTime.fromMillis(epochMs, { zone });
  if (!time.isValid) throw new RangeError(`no local time for ${epochMs} ms in zone '${zone}'`);
  return time;
}

/**
 * No zone has ever changed its clocks twice within so short a span (tz database: four days apart at the least), so that
 * one answer stands for all of it where both of its ends have the same.
 */
const SPAN_MS = 6 * MIN_PER_H * MS_PER_MIN;

/** Clocks are changed at the full quarter of an hour nearly everywhere: within a span with a change each is asked alone. */
const QUARTER_MS = 15 * MS_PER_MIN;

/** Minutes that zones are ahead of UTC, by zone and by when a stretch of time begins; `null`: changed within it. */
type Offsets = Map<string, Map<number, number | null>>;

const spanOffsets: Offsets = new Map();
const quarterOffsets: Offsets = new Map();

/** Minutes ahead of UTC during all of the stretch of this length that holds the moment; `null`: they change within it. */
function offsetDuring(epochMs: number, lengthMs: number, zone: string, offsets: Offsets): number | null {
  const fromMs = Math.floor(epochMs / lengthMs) * lengthMs;
  const known = offsets.get(zone) ?? new Map<number, number | null>();
  const before = known.get(fromMs);
  if (before !== undefined) return before;
  const first = moment(fromMs, zone).offset;
  const offset = first === moment(fromMs + lengthMs - 1, zone).offset ? first : null;
  if (known.size >= KEPT) known.clear();
  offsets.set(zone, known.set(fromMs, offset));
  return offset;
}

/** Minutes that a zone is ahead of UTC; luxon asks the platform anew for each moment. */
const offsetMin = (epochMs: number, zone: string): number =>
  offsetDuring(epochMs, SPAN_MS, zone, spanOffsets) ??
  offsetDuring(epochMs, QUARTER_MS, zone, quarterOffsets) ??
  moment(epochMs, zone).offset;

/** The moment as its clock and calendar show it, in the fields of UTC. */
const shown = (epochMs: number, zone: string): Date =>
  new Date(epochMs + offsetMin(epochMs, zone) * MS_PER_MIN);

const moments = new LRUCache<string, number>({ max: KEPT });

/**
 * The moment when clocks of the zone show `clockText` (`HH:MM`) on `date` (`YYYY-MM-DD`), ms since 1970.
 * A time skipped in spring moves forward by the length of the gap; of a repeated hour the earlier is meant.
 * @example localTimeMs('2026-07-11', '04:40', 'Etc/GMT+2') // 2026-07-11T06:40:00Z
 * @throws RangeError on an unreal date, a time that is not `00:00` to `23:59`, or an unknown zone.
 */
export function localTimeMs(date: string, clockText: string, zone: string): number {
  const key = `${date} ${clockText} ${zone}`;
  const known = moments.get(key);
  if (known !== undefined) return known;
  utcDay(date);
  if (!CLOCK.test(clockText)) throw new RangeError(`'${clockText}' is not a time HH:MM`);
  const time = DateTime.fromISO(`${date}T${clockText}`, { zone });
  // luxon leaves open which of two readings it returns; this list has the earlier first.
  const [earliest] = time.getPossibleOffsets();
  if (!time.isValid || earliest === undefined) throw new RangeError(`unknown time zone '${zone}'`);
  moments.set(key, earliest.toMillis());
  return earliest.toMillis();
}

/**
 * RFC 3339 with the offset of the place and whole seconds, fractions dropped.
 * @example rfc3339(localTimeMs('2026-07-11', '04:40', 'Etc/GMT+2'), 'Etc/GMT+2') // '2026-07-11T04:40:00-02:00'
 * @throws RangeError on a time that is not finite, or an unknown zone.
 */
export function rfc3339(epochMs: number, zone: string): string {
  const ahead = offsetMin(epochMs, zone);
  const text = new Date(epochMs + ahead * MS_PER_MIN).toISOString();
  if (epochMs >= 0 && text.length === 24 && Number.isInteger(ahead)) {
    const [hours, minutes] = [Math.floor(Math.abs(ahead) / MIN_PER_H), Math.abs(ahead) % MIN_PER_H];
    return `${text.slice(0, 19)}${ahead < 0 ? '-' : '+'}${two(hours)}:${two(minutes)}`;
  }
  // Not toISO: it writes Z for UTC, and the offset is to be a number everywhere.
  return moment(epochMs, zone).toFormat("yyyy-MM-dd'T'HH:mm:ssZZ");
}

/**
 * What a clock of the zone shows, `HH:MM`; seconds are dropped, so a printed cut-off time is never late.
 * @throws RangeError on a time that is not finite, or an unknown zone.
 */
export function clock(epochMs: number, zone: string): string {
  return shown(epochMs, zone).toISOString().slice(-13, -8);
}

/**
 * What `clock` gives, and how many calendar days after `date` it is then in the zone; negative: before it.
 * @throws RangeError on a time that is not finite, an unreal date, or an unknown zone.
 */
export function clockAfter(
  epochMs: number,
  zone: string,
  date: string,
): { readonly days: number; readonly clock: string } {
  // Whole milliseconds, as a Date has them.
  const ms = Math.trunc(epochMs + offsetMin(epochMs, zone) * MS_PER_MIN);
  const day = Math.floor(ms / MS_PER_DAY);
  const minutes = Math.floor((ms - day * MS_PER_DAY) / MS_PER_MIN);
  return {
    days: day - dayNumber(date),
    clock: `${two(Math.floor(minutes / MIN_PER_H))}:${two(minutes % MIN_PER_H)}`,
  };
}

/**
 * The calendar day in the zone, `YYYY-MM-DD`.
 * @throws RangeError on a time that is not finite, or an unknown zone.
 */
export function dateOf(epochMs: number, zone: string): string {
  const text = shown(epochMs, zone).toISOString();
  // A year of more than four digits is written with a sign there.
  return text.length === 24 ? text.slice(0, 10) : moment(epochMs, zone).toFormat('yyyy-MM-dd');
}

/** Whether the text is a day of the calendar written `YYYY-MM-DD`: `2028-02-29` is, `2026-02-29` is not. */
export function isRealDate(text: string): boolean {
  // No year 0: the calendar of people has none, though ISO 8601 does.
  return DATE.test(text) && !text.startsWith('0000') && DateTime.fromISO(text, { zone: 'utc' }).isValid;
}

/**
 * Calendar days from `from` to `to`, negative where `to` is the earlier; changes of the clock do not count.
 * @throws RangeError on an unreal date.
 */
export function daysBetween(from: string, to: string): number {
  return dayNumber(to) - dayNumber(from);
}

/**
 * The date so many whole days later, or earlier for negative `days`.
 * @throws RangeError on an unreal date or a number of days that is not whole.
 */
export function addDays(date: string, days: number): string {
  if (!Number.isInteger(days)) throw new RangeError(`${days} is not a whole number of days`);
  const text = new Date((dayNumber(date) + days) * MS_PER_DAY).toISOString();
  // A year of more than four digits is written with a sign.
  return text.length === 24 ? text.slice(0, 10) : utcDay(date).plus({ days }).toFormat('yyyy-MM-dd');
}

const THURSDAY = 4;

/**
 * The day of the week, 1 Monday to 7 Sunday (ISO 8601): `weekdayOf('2026-07-11')` is 6.
 * @throws RangeError on an unreal date.
 */
export const weekdayOf = (date: string): number =>
  // The first day of 1970 was a Thursday.
  ((((dayNumber(date) + THURSDAY - 1) % 7) + 7) % 7) + 1;
