import { addDays, daysBetween, weekdayOf } from '../../earth/local-time.ts';
import type { StatedRules } from './rules.ts';

/** The first day for a step, counted from today: the usual days between two after what was walked last. */
export const firstDayFor = (
  walked: readonly { readonly date: string }[],
  today: string,
  rules: StatedRules,
): number => Math.max(1, ...walked.map(({ date }) => daysBetween(today, date) + rules.daysBetween));

/**
 * Days for the last big outing, counted from today, the preferred first: the latest on the wished weekday that leaves
 * time to recover, then the latest of all. Empty where the trip is too near.
 *
 * @param firstDay the first day that anything can be planned on
 * @param tripDay days from today to the trip
 */
export function lastDays(
  today: string,
  firstDay: number,
  tripDay: number,
  rules: StatedRules,
): readonly number[] {
  const found: number[] = [];
  for (let before = rules.leastRecoveryDays; before <= rules.mostRecoveryDays; before += 1) {
    if (tripDay - before >= firstDay) found.push(tripDay - before);
  }
  const onWeekday = found.find((day) => weekdayOf(addDays(today, day)) === rules.weekday);
  const latest = found[0];
  if (latest === undefined) return [];
  return onWeekday === undefined || onWeekday === latest ? [latest] : [onWeekday, latest];
}

/** The first day from `firstDay` on that is the wished weekday; the day itself where any will do. */
export function firstOnWeekday(today: string, firstDay: number, { weekday }: StatedRules): number {
  const days = [0, 1, 2, 3, 4, 5, 6].map((later) => firstDay + later);
  return days.find((day) => weekdayOf(addDays(today, day)) === weekday) ?? firstDay;
}

/**
 * Days of a ladder that ends on `lastDay`: `weekly` of them at the usual interval, and before these `rare` at the
 * longest; in order.
 */
export function stepDays(
  lastDay: number,
  weekly: number,
  rare: number,
  { daysBetween: usual, mostDaysBetween: longest }: StatedRules,
): readonly number[] {
  const days = Array.from({ length: weekly }, (_, i) => lastDay - usual * i);
  const earliest = lastDay - usual * (weekly - 1);
  days.push(...Array.from({ length: rare }, (_, i) => earliest - longest * (i + 1)));
  return days.reverse();
}
