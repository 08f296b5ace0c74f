import { numberAt } from '../../array.ts';
import { MS_PER_MIN } from '../../units.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { type Missing, missingOf } from '../missing.ts';
import { answer, compare } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, STRETCH } from '../verdict.ts';

/** Value of a day that is out in the heat of a hot country (design). */
const HOT_VALUE = 0.3;

export type HeatReason = AnyReason &
  (
    | { readonly code: 'unknown'; readonly missing: Missing }
    | { readonly code: 'mild' }
    | {
        /** Started at dawn and back before the heat; or not. */
        readonly code: 'beforeHeat' | 'inHeat';
        /** Afternoon of a hot day at the foot of the route at this time of year, °C: no forecast. */
        readonly hotDayC: number;
        readonly isVeryHot: boolean;
        readonly startMs: number;
        /** Nine times in ten the group is back by; from when it is hot. */
        readonly backMs: number;
        readonly heatFromMs: number;
        readonly zone: string;
        readonly date: string;
      }
  );

/** Whether a day in a hot country and season starts at dawn and is back before the heat. */
export const heat: Criterion<'heat', HeatReason> = {
  name: 'heat',
  unit: 'min',
  isShifted: true,
  over({ table: { columns }, day, request: { design } }) {
    const { hotFromC, veryHotFromC, heatBeforeNoonMin, dawnWithinMin } = design.climate;
    return (i, shift, out) => {
      const hotDayC = numberAt(day.hotDayC, i);
      if (Number.isNaN(numberAt(columns.gainM, i)) || Number.isNaN(hotDayC)) {
        answer(out, 'unknown', INCOMPLETE, LEAST_VALUE);
      } else if (hotDayC < hotFromC) answer(out, 'mild', FITS, 1);
      else {
        const isVeryHot = hotDayC >= veryHotFromC;
        const startMs = day.startMs(i, shift);
        const untilMin = (numberAt(day.solarNoonMs, i) - startMs) / MS_PER_MIN - heatBeforeNoonMin;
        const neededMin = day.endMin(i, shift);
        const isAtDawn = startMs <= numberAt(day.civilDawnMs, i) + dawnWithinMin * MS_PER_MIN;
        if (isAtDawn && neededMin <= untilMin) {
          answer(out, 'beforeHeat', isVeryHot ? STRETCH : FITS, isVeryHot ? HOT_VALUE : NOT_STATED_VALUE);
        } else answer(out, 'inHeat', isVeryHot ? INCOMPLETE : STRETCH, isVeryHot ? LEAST_VALUE : HOT_VALUE);
        compare(out, neededMin, untilMin);
      }
    };
  },
  reason({ facts: { day, request }, i, route, timeline }, { code }) {
    if (code === 'mild') return { code };
    const end = timeline?.checkpoints.find(({ kind }) => kind === 'end');
    if (timeline === null || end === undefined || code === 'unknown') {
      return { code: 'unknown', missing: missingOf(route) };
    }
    const { veryHotFromC } = request.design.climate;
    const hotDayC = numberAt(day.hotDayC, i);
    return {
      code: code as 'beforeHeat' | 'inHeat',
      hotDayC,
      isVeryHot: hotDayC >= veryHotFromC,
      startMs: timeline.startMs,
      backMs: end.at.p90Ms,
      heatFromMs: timeline.heatFromMs ?? numberAt(day.solarNoonMs, i),
      zone: timeline.zone,
      date: timeline.date,
    };
  },
};
