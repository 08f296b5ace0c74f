import { isRealDate } from '../earth/local-time.ts';

/** Days in a month of the Gregorian calendar; `month` counts from 1. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Whether `MM-DD` is a day of some year (02-29 is). */
export function isMonthDay(text: string): boolean {
  return isRealDate(`2000-${text}`);
}
