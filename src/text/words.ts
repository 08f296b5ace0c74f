import { addDays, clockAfter } from '../earth/local-time.ts';
import { KJ_PER_KCAL, M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';

const wholes = new Intl.NumberFormat('en', { maximumFractionDigits: 0 });
/** Rounded before it is looked up, as it would be behind it (halves away from 0): shares are seldom the same twice. */
const whole = {
  format: (value: number): string => wholes.format(value < 0 ? -Math.round(-value) : Math.round(value)),
};
const tenth = new Intl.NumberFormat('en', { minimumFractionDigits: 1, maximumFractionDigits: 1 });

/** A length on the plan: `9.4 km` or `5.8 mi`. */
export function lengthText(metres: number, units: UnitSystem): string {
  return units === 'us' ? `${tenth.format(metres / M_PER_MILE)} mi` : `${tenth.format(metres / 1000)} km`;
}

/** A short way on the ground: `50 m`, or to 10 ft: `160 ft`. */
export function stepText(metres: number, units: UnitSystem): string {
  return units === 'us'
    ? `${whole.format(Math.round(metres / M_PER_FT / 10) * 10)} ft`
    : `${whole.format(metres)} m`;
}

/** A climb, rounded to 10 m or 50 ft: never finer than its doubt. */
export function climbText(metres: number, units: UnitSystem): string {
  return units === 'us'
    ? `${whole.format(Math.round(metres / M_PER_FT / 50) * 50)} ft`
    : `${whole.format(Math.round(metres / 10) * 10)} m`;
}

/** A height above sea level: `1,950 m` or `6,398 ft`. */
export function heightText(metres: number, units: UnitSystem): string {
  // + 0 turns the -0 of a height just below sea level into 0.
  return units === 'us'
    ? `${whole.format(Math.round(metres / M_PER_FT) + 0)} ft`
    : `${whole.format(Math.round(metres) + 0)} m`;
}

/** A length to be walked at least, rounded up: `9.2 km`. */
export function atLeastLengthText(metres: number, units: UnitSystem): string {
  const step = units === 'us' ? M_PER_MILE / 10 : 100;
  return lengthText(Math.ceil(metres / step - 1e-9) * step, units);
}

/** A climb to be done at least, rounded up to 10 m or 50 ft. */
export function atLeastClimbText(metres: number, units: UnitSystem): string {
  const step = units === 'us' ? 50 * M_PER_FT : 10;
  return climbText(Math.ceil(metres / step - 1e-9) * step, units);
}

/** `1 h 25 min`. */
export function durationText(minutes: number): string {
  const total = Math.round(Math.abs(minutes));
  const hours = Math.floor(total / 60);
  if (hours === 0) return `${total} min`;
  return total % 60 === 0 ? `${hours} h` : `${hours} h ${total % 60} min`;
}

export const percentText = (share: number): string => `${whole.format(share * 100)} %`;

/** A probability; never a certainty. */
export function chanceText(probability: number): string {
  if (probability > 0.99) return 'over 99 %';
  if (probability < 0.01) return 'under 1 %';
  // Rounded down: 89.9 % is not 90 %.
  return percentText(Math.floor(probability * 100 + 1e-9) / 100);
}

/** How far beyond something: `12 % beyond it`. */
export const beyondText = (share: number): string =>
  share < 0.01 ? 'just beyond it' : `${percentText(share)} beyond it`;

const monthDay = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', timeZone: 'UTC' });

/** A day of every year (`08-01`) as `1 August`; a date stays as it is. */
export function seasonDayText(day: string): string {
  if (day.length > 5) return day;
  const [month = 1, of = 1] = day.split('-').map(Number);
  // A leap year, so that 29 February is a day.
  return monthDay.format(Date.UTC(2024, month - 1, of));
}

const weekday = new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' });

/** A date with its day of the week: `Saturday 2026-07-11`. */
export const weekdayText = (date: string): string =>
  `${weekday.format(Date.parse(`${date}T00:00:00Z`))} ${date}`;

/** A date as families read it: `Saturday, 11 July 2026`. */
export const longDateText = (date: string): string =>
  `${weekday.format(Date.parse(`${date}T00:00:00Z`))}, ${seasonDayText(date.slice(5))} ${date.slice(0, 4)}`;

/** A clock time of the trip's date, with the day said where it is another one. */
export function clockOn(epochMs: number, zone: string, date: string): string {
  const { days, clock: text } = clockAfter(epochMs, zone, date);
  if (days === 0) return text;
  if (days === 1) return `${text} the next day`;
  return days === -1 ? `${text} the day before` : `${text} on ${addDays(date, days)}`;
}

/** Metabolic work as people know it. */
export const workText = (kj: number): string =>
  `${whole.format(Math.round(kj / KJ_PER_KCAL / 10) * 10)} kcal`;

/** A sentence to stand in a row of others. */
export const withoutStop = (sentence: string): string => sentence.replace(/\.$/, '');

export const plural = (count: number, one: string, many: string = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** Names in a row: `m1, m2 and m3`. */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
