/** Days in a month of the Gregorian calendar; `month` counts from 1. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Whether `YYYY-MM-DD` is a day that exists. */
export function isCalendarDate(text: string): boolean {
  const parts = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/.exec(text);
  if (parts === null) return false;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  return year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
}

/** Whether `MM-DD` is a day of some year (02-29 is). */
export function isMonthDay(text: string): boolean {
  return isCalendarDate(`2000-${text}`);
}
