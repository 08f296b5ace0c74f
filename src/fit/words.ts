import { clock, dateOf, daysBetween } from '../earth/local-time.ts';
import { KJ_PER_KCAL, M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';

const whole = new Intl.NumberFormat('en', { maximumFractionDigits: 0 });
const tenth = new Intl.NumberFormat('en', { minimumFractionDigits: 1, maximumFractionDigits: 1 });

/** A length on the plan: `9.4 km` or `5.8 mi`. */
export function lengthText(metres: number, units: UnitSystem): string {
  return units === 'us' ? `${tenth.format(metres / M_PER_MILE)} mi` : `${tenth.format(metres / 1000)} km`;
}

/** A climb, rounded to 10 m or 50 ft: never finer than its doubt. */
export function climbText(metres: number, units: UnitSystem): string {
  return units === 'us'
    ? `${whole.format(Math.round(metres / M_PER_FT / 50) * 50)} ft`
    : `${whole.format(Math.round(metres / 10) * 10)} m`;
}

/** A height above sea level: `1,950 m` or `6,398 ft`. */
export function heightText(metres: number, units: UnitSystem): string {
  return units === 'us' ? `${whole.format(metres / M_PER_FT)} ft` : `${whole.format(metres)} m`;
}

/** `1 h 25 min`. */
export function durationText(minutes: number): string {
  const total = Math.round(Math.abs(minutes));
  const hours = Math.floor(total / 60);
  if (hours === 0) return `${total} min`;
  return total % 60 === 0 ? `${hours} h` : `${hours} h ${total % 60} min`;
}

export const percentText = (share: number): string => `${whole.format(share * 100)} %`;

/** A clock time of the trip's date, with the day said where it is another one. */
export function clockOn(epochMs: number, zone: string, date: string): string {
  const days = daysBetween(date, dateOf(epochMs, zone));
  const text = clock(epochMs, zone);
  if (days === 0) return text;
  return days === 1
    ? `${text} the next day`
    : days === -1
      ? `${text} the day before`
      : `${text} on ${dateOf(epochMs, zone)}`;
}

/** Metabolic work as people know it. */
export const workText = (kj: number): string =>
  `${whole.format(Math.round(kj / KJ_PER_KCAL / 10) * 10)} kcal`;

export const plural = (count: number, one: string, many: string = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
