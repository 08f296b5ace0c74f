import { rockClassOrder, rockClassValue } from '../../ingest/rock-class.ts';
import type { Criterion, Judgement } from '../criterion.ts';
import { FITS, INCOMPLETE, newOutcome, type Outcome, RULED_OUT, STRETCH, settle } from '../outcome.ts';
import { LEAST_VALUE } from '../value.ts';

/** Value of a class within comfort that nobody has walked yet (design). */
const NOT_WALKED_VALUE = 0.5;

/** Classes by `rockClassOrder`: stated, within comfort, walked by everyone; `NaN`: not known. */
export function rockClassOutcome(stated: number, comfort: number, walked: number, out: Outcome): void {
  if (Number.isNaN(stated) || Number.isNaN(comfort)) settle(out, INCOMPLETE, LEAST_VALUE);
  else if (stated > comfort) settle(out, RULED_OUT, LEAST_VALUE);
  else if (stated <= walked) settle(out, FITS, 1);
  else settle(out, STRETCH, NOT_WALKED_VALUE);
}

const orderOf = (text: string | null): number => (text === null ? Number.NaN : rockClassOrder(text));

/** The hardest move against the group's comfort class, and whether everyone has walked such ground before. */
export const rockClass: Criterion = {
  name: 'rockClass',
  judge: ({ route, cohort, shown }): Judgement => {
    const stated = route.attributes.rockClass ?? null;
    const comfort = cohort.comfortClass ?? null;
    const demand = stated === null ? null : rockClassValue(stated);
    const capacity = comfort === null ? null : rockClassValue(comfort);
    const base = { name: 'rockClass' as const, demand, capacity, unit: 'class', headroom: null };
    if (comfort === null || capacity === null) {
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: 'the group’s comfort class is not stated',
      };
    }
    if (stated === null || demand === null) {
      const walked = shown.rockClass;
      const condition =
        walked === null
          ? `would be a stretch if its class is ${comfort} or less`
          : `would fit if its class is ${walked.value < capacity ? walked.text : comfort} or less`;
      return {
        ...base,
        value: null,
        verdict: 'incomplete',
        reason: `rock class is not stated; by the class alone it ${condition}`,
      };
    }
    const headroom = capacity / demand - 1;
    const out = newOutcome();
    rockClassOutcome(orderOf(stated), orderOf(comfort), orderOf(shown.rockClass?.text ?? null), out);
    if (out.rank === RULED_OUT) {
      return {
        ...base,
        headroom,
        value: out.value,
        verdict: 'ruledOut',
        reason: `class ${stated} is above the group’s comfort class ${comfort}`,
      };
    }
    if (shown.rockClass !== null && out.rank === FITS) {
      return {
        ...base,
        headroom,
        value: out.value,
        verdict: 'fits',
        reason: `class ${stated} is within comfort (${comfort}) and everyone has walked class ${shown.rockClass.text}`,
      };
    }
    const walked =
      shown.rockClass === null
        ? 'no class is recorded for everyone'
        : `so far everyone has walked class ${shown.rockClass.text}`;
    return {
      ...base,
      headroom,
      value: out.value,
      verdict: 'stretch',
      reason: `class ${stated} is within comfort (${comfort}) but not walked yet: ${walked}`,
      gap: {
        criterion: 'rockClass',
        need: { rockClass: stated },
        text: `an outing on class ${stated} ground first, with everyone who goes`,
      },
    };
  },
};
