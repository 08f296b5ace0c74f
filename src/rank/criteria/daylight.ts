import { at, numberAt } from '../../array.ts';
import { MS_PER_MIN } from '../../units.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { type Missing, missingOf } from '../missing.ts';
import { answer, compare } from '../outcome.ts';
import { LEAST_VALUE, spareValue } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT, STRETCH } from '../verdict.ts';

/** Value of a day that ends after the hour kept before dusk, but before dusk (design). */
const NEAR_DUSK_VALUE = 0.3;

export type DaylightReason = AnyReason &
  (
    | { readonly code: 'unknown'; readonly missing: Missing }
    | { readonly code: 'sunNeverSets' | 'sunNeverRises' | 'lightAllNight' }
    | {
        readonly code: 'back' | 'late';
        /** Nine times in ten the group is back by; then it is civil dusk, before which so much is kept. */
        readonly backMs: number;
        readonly duskMs: number;
        readonly beforeDuskMin: number;
        readonly zone: string;
        readonly date: string;
      }
  );

/** Whether the group is back well before dark, at its 90th percentile. */
export const daylight: Criterion<'daylight', DaylightReason> = {
  name: 'daylight',
  unit: 'min',
  isShifted: true,
  over({ table: { columns }, day, request: { design } }) {
    const { beforeDuskMin } = design.daylight;
    return (i, shift, out) => {
      const duskMs = numberAt(day.civilDuskMs, i);
      const polar = at(day.polar, i);
      if (Number.isNaN(numberAt(columns.gainM, i))) answer(out, 'unknown', INCOMPLETE, LEAST_VALUE);
      else if (polar === 1) answer(out, 'sunNeverSets', FITS, 1);
      else if (polar === -1) answer(out, 'sunNeverRises', RULED_OUT, LEAST_VALUE);
      else if (Number.isNaN(duskMs)) answer(out, 'lightAllNight', FITS, 1);
      else {
        const demandMin = day.endMin(i, shift);
        const capacityMin = (duskMs - day.startMs(i, shift)) / MS_PER_MIN - beforeDuskMin;
        const spareMin = capacityMin - demandMin;
        if (spareMin >= 0) answer(out, 'back', FITS, spareValue(spareMin));
        else if (spareMin + beforeDuskMin >= 0) answer(out, 'late', STRETCH, NEAR_DUSK_VALUE);
        else answer(out, 'late', RULED_OUT, LEAST_VALUE);
        compare(out, demandMin, capacityMin);
      }
    };
  },
  reason({ facts, route, timeline }, { code }) {
    const end = timeline?.checkpoints.find(({ kind }) => kind === 'end');
    if (code === 'sunNeverSets' || code === 'sunNeverRises' || code === 'lightAllNight') return { code };
    if (timeline === null || end === undefined || timeline.civilDuskMs === null) {
      return { code: 'unknown', missing: missingOf(route) };
    }
    const { zone, date, civilDuskMs } = timeline;
    return {
      code: code as 'back' | 'late',
      backMs: end.at.p90Ms,
      duskMs: civilDuskMs,
      beforeDuskMin: facts.request.design.daylight.beforeDuskMin,
      zone,
      date,
    };
  },
};
