import { monthDay } from '../../earth/local-time.ts';
import type { Criterion, Judgement } from '../criterion.ts';
import { FITS, newOutcome, type Outcome, RULED_OUT, settle } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

/** Whether a day lies in a span of month-days or dates; a span of month-days may wrap the new year. */
export function within(date: string, from: string, to: string): boolean {
  const onDate = from.length === 10 ? date : monthDay(date);
  if (from.length !== to.length) return from.length === 10 ? date >= from : date <= to;
  return from <= to ? onDate >= from && onDate <= to : onDate >= from || onDate <= to;
}

/** Whether it is closed on the date, and in season; `null`: no season is stated. */
export function seasonOutcome(isClosed: boolean, isInSeason: boolean | null, out: Outcome): void {
  if (isClosed || isInSeason === false) settle(out, RULED_OUT, LEAST_VALUE);
  else settle(out, FITS, isInSeason === null ? NOT_STATED_VALUE : 1);
}

/** Whether the route is in season and not closed on the date. */
export const season: Criterion = {
  name: 'season',
  judge: ({ route, date }): Judgement => {
    const base = { name: 'season' as const, demand: null, capacity: null, unit: 'date', headroom: null };
    const closure = (route.attributes.closures ?? []).find(({ from, to }) => within(date, from, to));
    const stated = route.attributes.season ?? null;
    const inSeason = stated === null ? null : within(date, stated.from, stated.to);
    const out = newOutcome();
    seasonOutcome(closure !== undefined, inSeason, out);
    const verdict = VERDICTS[out.rank] ?? 'ruledOut';
    const answer = { ...base, value: out.value, verdict };
    if (closure !== undefined) {
      const why = closure.reason == null ? '' : ` (${closure.reason})`;
      return { ...answer, reason: `closed from ${closure.from} to ${closure.to}${why}` };
    }
    if (stated === null) {
      return { ...answer, reason: 'no season is stated', toCheck: 'season not stated' };
    }
    return {
      ...answer,
      reason: `${inSeason ? 'in' : 'out of'} season (${stated.from} to ${stated.to})`,
    };
  },
};
