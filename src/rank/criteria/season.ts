import { seasonDayText } from '../../text/words.ts';
import type { Criterion, Judgement } from '../criterion.ts';
import { FITS, newOutcome, type Outcome, RULED_OUT, settle } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

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

/** Whether a day lies in a span of month-days or dates. */
export const within = (date: string, from: string, to: string): boolean =>
  withinSpan(dayNumber(date), dayNumber(from), dayNumber(to));

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
      return {
        ...answer,
        reason: `closed from ${seasonDayText(closure.from)} to ${seasonDayText(closure.to)}${why}`,
      };
    }
    if (stated === null) {
      return { ...answer, reason: 'no season is stated', toCheck: 'season not stated' };
    }
    return {
      ...answer,
      reason: `${inSeason ? 'in' : 'out of'} season (${seasonDayText(stated.from)} to ${seasonDayText(stated.to)})`,
    };
  },
};
