import { at, numberAt } from '../../array.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { dayNumber, withinSpan } from '../day-number.ts';
import { answer } from '../outcome.ts';
import type { RankTable } from '../rank-table.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { FITS, RULED_OUT } from '../verdict.ts';

export type SeasonReason = AnyReason &
  (
    | { readonly code: 'notStated' }
    | { readonly code: 'closed'; readonly from: string; readonly to: string; readonly why: string | null }
    | { readonly code: 'inSeason' | 'outOfSeason'; readonly from: string; readonly to: string }
  );

/** Place of the first closure that holds on a day; -1: none. */
function closureOn({ closures, closuresFrom }: RankTable, i: number, day: number): number {
  const from = at(closuresFrom, i);
  for (let c = from; c < at(closuresFrom, i + 1); c += 1) {
    if (withinSpan(day, numberAt(closures, 2 * c), numberAt(closures, 2 * c + 1))) return c - from;
  }
  return -1;
}

/** Whether the route is in season and not closed on the date. */
export const season: Criterion<'season', SeasonReason> = {
  name: 'season',
  unit: 'date',
  isShifted: false,
  over({ table, request }) {
    const today = dayNumber(request.date);
    return (i, _shift, out) => {
      const from = numberAt(table.seasonFrom, i);
      if (closureOn(table, i, today) >= 0) answer(out, 'closed', RULED_OUT, LEAST_VALUE);
      else if (Number.isNaN(from)) answer(out, 'notStated', FITS, NOT_STATED_VALUE);
      else if (withinSpan(today, from, numberAt(table.seasonTo, i))) answer(out, 'inSeason', FITS, 1);
      else answer(out, 'outOfSeason', RULED_OUT, LEAST_VALUE);
    };
  },
  reason({ facts, i, route }, { code }) {
    const { closures, season: stated } = route.attributes;
    if (code === 'closed') {
      const which = closureOn(facts.table, i, dayNumber(facts.request.date));
      const { from, to, reason } = at(closures ?? [], which);
      return { code, from, to, why: reason ?? null };
    }
    if (stated == null) return { code: 'notStated' };
    return { code: code as 'inSeason' | 'outOfSeason', from: stated.from, to: stated.to };
  },
};
