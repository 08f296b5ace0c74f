import { at, numberAt } from '../../array.ts';
import { snowOn } from '../../day/season.ts';
import type { Route } from '../../route/describe-route.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { dayNumber, withinSpan } from '../day-number.ts';
import { answer } from '../outcome.ts';
import type { RankTable } from '../rank-table.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT } from '../verdict.ts';

export type SeasonReason = AnyReason &
  (
    | { readonly code: 'notStated' }
    /** Snow may lie at the top by latitude, height and time of year. */
    | { readonly code: 'snowMayLie'; readonly highM: number | null }
    /** Snow is stated for ground on which it slides; `null`: how steep it is, is not known. */
    | { readonly code: 'steepSnow'; readonly steepestDeg: number | null }
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

/** The steepest ground on, beside or above the line on which snow slides, degrees; `null`: not known. */
function slideDegOf({ measures: { steepGround } }: Route): number | null {
  const angles = (steepGround?.stretches ?? []).flatMap(({ onDeg, besideDeg, aboveDeg }) => [
    onDeg ?? 0,
    besideDeg ?? 0,
    aboveDeg ?? 0,
  ]);
  return angles.length === 0 ? null : Math.max(...angles);
}

/** Whether the route is in season and not closed on the date, and what snow there may be. */
export const season: Criterion<'season', SeasonReason> = {
  name: 'season',
  unit: 'date',
  isShifted: false,
  over({ table, request }) {
    const today = dayNumber(request.date);
    const { highM, seaMeanC, seaSwingK, isSnow, hasSlideGround } = table.columns;
    const maySnow = snowOn(request.date, request.design.climate);
    const year = { meanC: 0, swingK: 0 };
    const maySnowAt = (i: number): boolean => {
      year.meanC = numberAt(seaMeanC, i);
      year.swingK = numberAt(seaSwingK, i);
      const heightM = numberAt(highM, i);
      // Where no height is known the foot of a hill is taken: other questions are open there.
      return maySnow(year, Number.isNaN(heightM) ? 0 : heightM);
    };
    return (i, _shift, out) => {
      const from = numberAt(table.seasonFrom, i);
      if (closureOn(table, i, today) >= 0) answer(out, 'closed', RULED_OUT, LEAST_VALUE);
      else if (!Number.isNaN(from) && !withinSpan(today, from, numberAt(table.seasonTo, i))) {
        answer(out, 'outOfSeason', RULED_OUT, LEAST_VALUE);
      } else if (numberAt(isSnow, i) === 1 && numberAt(hasSlideGround, i) === 1) {
        answer(out, 'steepSnow', INCOMPLETE, LEAST_VALUE);
      } else if (!Number.isNaN(from)) answer(out, 'inSeason', FITS, 1);
      else if (maySnowAt(i)) answer(out, 'snowMayLie', INCOMPLETE, LEAST_VALUE);
      else answer(out, 'notStated', FITS, NOT_STATED_VALUE);
    };
  },
  reason({ facts, i, route }, { code }) {
    const { closures, season: stated } = route.attributes;
    if (code === 'closed') {
      const which = closureOn(facts.table, i, dayNumber(facts.request.date));
      const { from, to, reason } = at(closures ?? [], which);
      return { code, from, to, why: reason ?? null };
    }
    if (code === 'steepSnow') return { code, steepestDeg: slideDegOf(route) };
    if (code === 'snowMayLie') return { code, highM: route.measures.highM };
    if (stated == null) return { code: 'notStated' };
    return { code: code as 'inSeason' | 'outOfSeason', from: stated.from, to: stated.to };
  },
};
