import type { Approach } from '../../approach/approach.ts';
import type { Design } from '../../design.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE, ratioCurve } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT, STRETCH } from '../verdict.ts';

/**
 * `unknown`: neither meeting place nor road; `noLimit`, `noFigure`: nothing to compare. `km`, `min`: the limit that
 * binds, the one with the worse verdict, between equal ones the tighter.
 */
export interface DriveReason extends AnyReason {
  readonly code: 'unknown' | 'noLimit' | 'noFigure' | 'km' | 'min';
  readonly approach: Approach;
}

/** One limit judged by itself: a stated figure beyond it rules out; an estimate stretches, asks, and rules out far beyond. */
function sideRank(demand: number, limit: number, isEstimated: boolean, limits: Design['limits']): number {
  if (demand <= limit) return FITS;
  if (!isEstimated) return RULED_OUT;
  if (demand <= limits.driveStretch * limit) return STRETCH;
  return demand <= limits.driveEstimateRuledOut * limit ? INCOMPLETE : RULED_OUT;
}

/** The drive to the trailhead against the cohort's limits; an estimate rules out only far beyond them. */
export const drive: Criterion<'drive', DriveReason> = {
  name: 'drive',
  unit: ({ code }) => (code === 'min' ? 'min' : 'km'),
  isShifted: false,
  over({ approach, request: { record, design } }) {
    const { limits } = design;
    const curve = ratioCurve(limits.driveStretch);
    const { km: limitKm = null, minutes: limitMin = null } = record.cohort.driveLimit ?? {};
    return (i, _shift, out) => {
      const { roadKm, roadMin, kmEstimated, minEstimated } = approach(i);
      const isKmKnown = roadKm !== null && limitKm !== null;
      const isMinKnown = roadMin !== null && limitMin !== null;
      if (!isKmKnown && !isMinKnown) {
        const isUnknown = roadKm === null && roadMin === null;
        const isFree = limitKm === null && limitMin === null;
        answer(out, isUnknown ? 'unknown' : isFree ? 'noLimit' : 'noFigure', FITS, NOT_STATED_VALUE);
        compare(out, roadKm ?? Number.NaN, limitKm ?? Number.NaN);
        return;
      }
      const kmRank = isKmKnown ? sideRank(roadKm, limitKm, kmEstimated, limits) : -1;
      const minRank = isMinKnown ? sideRank(roadMin, limitMin, minEstimated, limits) : -1;
      const isTighter = isKmKnown && isMinKnown && roadKm * limitMin >= roadMin * limitKm;
      const isKm = kmRank > minRank || (kmRank === minRank && isTighter);
      const [demand, limit] = isKm ? [roadKm ?? 0, limitKm ?? 0] : [roadMin ?? 0, limitMin ?? 0];
      const rank = isKm ? kmRank : minRank;
      const ratio = demand === 0 ? 0 : demand / limit;
      const value = rank <= STRETCH && Number.isFinite(ratio) ? curve(ratio) : LEAST_VALUE;
      answer(out, isKm ? 'km' : 'min', rank, value);
      compare(out, demand, limit);
    };
  },
  reason: ({ facts, i }, { code }) => ({ code: code as DriveReason['code'], approach: facts.approach(i) }),
};
