import { monthDay } from '../../earth/local-time.ts';
import type { Criterion, Judgement } from '../criterion.ts';
import { LEAST_VALUE } from '../value.ts';

/** Whether a day lies in a span of month-days or dates; a span of month-days may wrap the new year. */
export function within(date: string, from: string, to: string): boolean {
  const onDate = from.length === 10 ? date : monthDay(date);
  if (from.length !== to.length) return from.length === 10 ? date >= from : date <= to;
  return from <= to ? onDate >= from && onDate <= to : onDate >= from || onDate <= to;
}

/** Whether the route is in season and not closed on the date. */
export const season: Criterion = {
  name: 'season',
  judge: ({ route, date }): Judgement => {
    const base = { name: 'season' as const, demand: null, capacity: null, unit: 'date', headroom: null };
    const closure = (route.attributes.closures ?? []).find(({ from, to }) => within(date, from, to));
    if (closure !== undefined) {
      const why = closure.reason == null ? '' : ` (${closure.reason})`;
      return {
        ...base,
        value: LEAST_VALUE,
        verdict: 'ruledOut',
        reason: `closed from ${closure.from} to ${closure.to}${why}`,
      };
    }
    const stated = route.attributes.season ?? null;
    if (stated === null) {
      return {
        ...base,
        value: 0.9,
        verdict: 'fits',
        reason: 'no season is stated',
        toCheck: 'season not stated',
      };
    }
    const inSeason = within(date, stated.from, stated.to);
    return {
      ...base,
      value: inSeason ? 1 : LEAST_VALUE,
      verdict: inSeason ? 'fits' : 'ruledOut',
      reason: `${inSeason ? 'in' : 'out of'} season (${stated.from} to ${stated.to})`,
    };
  },
};
