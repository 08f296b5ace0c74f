import type { Design } from '../design.ts';
import { summerOfNorth, usualC, type YearOfPlace } from '../earth/climate.ts';

/** Whether snow may lie at a height on a date, by latitude and time of year: a question, no forecast. */
export function snowOn(date: string, { fallsBelowC, meltDays }: Design['climate']) {
  const [now, before] = [summerOfNorth(date), summerOfNorth(date, -meltDays)];
  return (year: YearOfPlace, elevationM: number): boolean =>
    usualC(year, elevationM, now) < fallsBelowC || usualC(year, elevationM, before) < 0;
}

/** The afternoon of a hot day on a date at a height, °C. */
export function hotDayOn(date: string, { hotDayK }: Design['climate']) {
  const now = summerOfNorth(date);
  return (year: YearOfPlace, elevationM: number): number => usualC(year, elevationM, now) + hotDayK;
}

/** A cold day on a date at a height, °C. */
export function coldDayOn(date: string, { coldDayK }: Design['climate']) {
  const now = summerOfNorth(date);
  return (year: YearOfPlace, elevationM: number): number => usualC(year, elevationM, now) - coldDayK;
}
