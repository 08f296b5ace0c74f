import { addDays } from '../earth/local-time.ts';

/** Days ahead of today that a trip may keep a cohort's data for (design). */
const FURTHEST_TRIP_DAYS = 366;

/** The day of a moment, in UTC, `YYYY-MM-DD`. */
export const dayOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/**
 * The day that a trip counts as for keeping a cohort's data: its own, but a slip of the year, or a day far ahead, does
 * not keep them for years.
 */
export function keptFrom(date: string, nowMs: number): string {
  const furthest = addDays(dayOf(nowMs), FURTHEST_TRIP_DAYS);
  return date < furthest ? date : furthest;
}
