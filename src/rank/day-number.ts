/** A date as a number that can be compared, `20260615`; a month and day alone is `615`. */
export const dayNumber = (text: string): number => Number(text.replaceAll('-', ''));

const MONTH_DAYS = 10_000;

/**
 * Whether a day lies in a span of dates or of month-days, all as `dayNumber`; a span of month-days may wrap the new
 * year. Of a span that mixes both the date alone counts.
 */
export function withinSpan(day: number, from: number, to: number): boolean {
  const isFromDate = from > MONTH_DAYS;
  if (isFromDate !== to > MONTH_DAYS) return isFromDate ? day >= from : day <= to;
  const on = isFromDate ? day : day % MONTH_DAYS;
  return from <= to ? on >= from && on <= to : on >= from || on <= to;
}
