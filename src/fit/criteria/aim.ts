import type { Design } from '../../design.ts';
import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { aimValue } from '../value.ts';
import { percentText } from '../words.ts';
import { routeEffortKj } from './effort.ts';

/** How near the day's work comes to what the group is after: a comfortable day, or a challenge. Never a veto. */
export const aim: Criterion = {
  name: 'aim',
  judge: (input): Judgement => {
    const kind: keyof Design['aim'] = input.cohort.aim ?? 'comfort';
    const target = input.design.aim[kind];
    const demandKj = routeEffortKj(input);
    const shown = input.shown.effortKj;
    const base = { name: 'aim' as const, demand: demandKj, unit: 'kJ', verdict: 'fits' as const };
    if (demandKj === null || shown === null) {
      return {
        ...base,
        capacity: null,
        headroom: null,
        value: 0.5,
        reason: 'what the group has shown is not known',
      };
    }
    const capacity = target * shown.value;
    const share = demandKj / shown.value;
    return {
      ...base,
      capacity,
      headroom: headroomOf(demandKj, capacity),
      value: aimValue(share, target),
      reason: `${percentText(share)} of the work of the hardest day shown; a ${kind === 'comfort' ? 'comfortable day' : 'challenge'} is about ${percentText(target)}`,
    };
  },
};
