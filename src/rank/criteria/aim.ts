import type { Design } from '../../design.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { curveOf } from '../value.ts';
import { FITS } from '../verdict.ts';

/** Value where the day's share of the work shown is not known (design). */
const UNKNOWN_VALUE = 0.5;

/** Value of a day's share of the work shown, by how far it lies from the share aimed at (design). */
const offAim = curveOf([
  [0, 1],
  [0.25, 0.6],
  [0.75, 0.2],
]);

export type AimReason = AnyReason &
  (
    | { readonly code: 'unknown' }
    | {
        readonly code: 'share';
        /** Of the work of the hardest day shown, and the share aimed at. */
        readonly share: number;
        readonly target: number;
        readonly aim: keyof Design['aim'];
        readonly isAimStated: boolean;
      }
  );

/** How near the day's work comes to what the group is after: a comfortable day, or a challenge. Never a veto. */
export const aim: Criterion<'aim', AimReason> = {
  name: 'aim',
  unit: 'kJ',
  isShifted: true,
  over({ readiness, workKj, request: { record, design } }) {
    const target = design.aim[record.cohort.aim ?? 'comfort'];
    const shownKj = readiness.shown.effortKj?.value ?? Number.NaN;
    return (i, { shown, gain }, out) => {
      const demandKj = workKj(i, gain);
      const share = demandKj / (shownKj * shown);
      const isKnown = !Number.isNaN(share);
      answer(
        out,
        isKnown ? 'share' : 'unknown',
        FITS,
        isKnown ? offAim(Math.abs(share - target)) : UNKNOWN_VALUE,
      );
      compare(out, demandKj, isKnown ? target * shownKj * shown : Number.NaN);
    };
  },
  reason({ facts: { readiness, request } }, { code, demand }) {
    const { effortKj } = readiness.shown;
    if (code === 'unknown' || effortKj === null) return { code: 'unknown' };
    const stated = request.record.cohort.aim ?? null;
    return {
      code: 'share',
      share: demand / effortKj.value,
      target: request.design.aim[stated ?? 'comfort'],
      aim: stated ?? 'comfort',
      isAimStated: stated !== null,
    };
  },
};
