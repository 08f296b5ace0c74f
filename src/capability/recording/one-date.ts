import type { Design } from '../../design.ts';
import { dateOf } from '../../earth/local-time.ts';
import { zoneOf } from '../../earth/zone.ts';
import { MS_PER_MIN } from '../../units.ts';
import { type Fix, fixesOf, type Line, lengthM, type NotedLine, slice } from './line.ts';
import { stopsOf } from './stops.ts';

const localDate = ({ timeMs, point }: Fix) => dateOf(timeMs, zoneOf(point));

/** A night: so long without walking that it is no stop of a walk, from one calendar day to another. */
function isNight(evening: Fix | undefined, morning: Fix | undefined, longStandMin: number): boolean {
  if (evening === undefined || morning === undefined) return false;
  if (morning.timeMs - evening.timeMs <= longStandMin * MS_PER_MIN) return false;
  return localDate(evening) !== localDate(morning);
}

/** The points between which nights lie: where each begins and ends, counted through the line, in order. */
function nightsOf(line: Line, limits: Design['recording']): { from: number; to: number }[] {
  const fixes = fixesOf(line);
  const byIndex = new Map(fixes.map((fix) => [fix.index, fix]));
  const holes = fixes.flatMap((morning, i) => {
    const evening = fixes[i - 1];
    if (evening === undefined || !isNight(evening, morning, limits.longStandMin)) return [];
    return [{ from: evening.index, to: morning.index }];
  });
  const stops = stopsOf(line, limits).filter(
    ({ from, to, atStart, atEnd }) =>
      !atStart && !atEnd && isNight(byIndex.get(from), byIndex.get(to), limits.longStandMin),
  );
  return [...holes, ...stops].sort((a, b) => a.from - b.from || a.to - b.to);
}

/**
 * What a recording that goes on over a night holds of one day: of the stated date, or the longest day where it holds
 * none of that date. An outing is one day, and two days are no day of double length.
 */
export function ofOneDate(line: Line, date: string, limits: Design['recording']): NotedLine {
  const nights = nightsOf(line, limits);
  if (nights.length === 0) return { line, notes: [] };
  const days: Line[] = [];
  let start = 0;
  for (const { from, to } of nights) {
    if (from > start) days.push(slice(line, start, from));
    start = Math.max(start, to);
  }
  days.push(slice(line, start, Number.POSITIVE_INFINITY));
  const walked = days.filter((day) => day.length > 0);
  const stated = walked.filter((day) => {
    const [first] = fixesOf(day);
    return first !== undefined && localDate(first) === date;
  });
  const among = stated.length > 0 ? stated : walked;
  const [day, ...others] = among.toSorted((a, b) => lengthM(b) - lengthM(a));
  if (day === undefined || (others.length === 0 && walked.length === 1))
    return { line: day ?? line, notes: [] };
  return { line: day, notes: [{ code: 'other-day-cut', values: {} }] };
}
