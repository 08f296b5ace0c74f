import type { Design } from '../../design.ts';
import { percentText } from '../../text/words.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { FITS, newOutcome, type Outcome, settle } from '../outcome.ts';
import { aimValue } from '../value.ts';

/** Value where the day's share of the work shown is not known (design). */
const UNKNOWN_VALUE = 0.5;

/** The day's share of the work shown against the share aimed at; `NaN`: not known. */
export function aimOutcome(share: number, target: number, out: Outcome): void {
  settle(out, FITS, Number.isNaN(share) ? UNKNOWN_VALUE : aimValue(share, target));
}

/** How near the day's work comes to what the group is after: a comfortable day, or a challenge. Never a veto. */
export const aim: Criterion = {
  name: 'aim',
  judge: (input): Judgement => {
    const kind: keyof Design['aim'] = input.cohort.aim ?? 'comfort';
    const target = input.design.aim[kind];
    const demandKj = input.workKj;
    const shown = input.shown.effortKj;
    const base = { name: 'aim' as const, demand: demandKj, unit: 'kJ', verdict: 'fits' as const };
    if (demandKj === null || shown === null) {
      return {
        ...base,
        capacity: null,
        headroom: null,
        value: UNKNOWN_VALUE,
        reason: 'what the group has shown is not known',
      };
    }
    const day = kind === 'comfort' ? 'a comfortable day' : 'a challenge';
    const wished =
      input.cohort.aim == null ? `no aim is stated: ${day} was taken` : `the group is after ${day}`;
    const capacity = target * shown.value;
    const share = demandKj / shown.value;
    const out = newOutcome();
    aimOutcome(share, target, out);
    return {
      ...base,
      capacity,
      headroom: headroomOf(demandKj, capacity),
      value: out.value,
      reason: `${percentText(share)} of the work of the hardest day shown; ${wished}, about ${percentText(target)}`,
    };
  },
};
