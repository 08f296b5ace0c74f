import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { FITS, newOutcome, type Outcome, RULED_OUT, settle } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

/** People against the limit; `NaN`: not stated. */
export function partySizeOutcome(people: number, limit: number, out: Outcome): void {
  if (Number.isNaN(limit)) settle(out, FITS, NOT_STATED_VALUE);
  else if (people <= limit) settle(out, FITS, 1);
  else settle(out, RULED_OUT, LEAST_VALUE);
}

/** Participants and leaders together against the place's party limit. */
export const partySize: Criterion = {
  name: 'partySize',
  judge: ({ route, cohort, party }): Judgement => {
    const limit = route.attributes.groupSizeLimit ?? null;
    const people = party;
    const uncounted = cohort.leaders == null ? ' with one leader' : ', leaders included';
    const base = {
      name: 'partySize' as const,
      demand: people,
      capacity: limit,
      unit: 'people',
      headroom: null,
    };
    const out = newOutcome();
    partySizeOutcome(people, limit ?? Number.NaN, out);
    if (limit === null) {
      return {
        ...base,
        value: out.value,
        verdict: 'fits',
        reason: `a party of ${people}${uncounted}; no limit is stated`,
        toCheck: 'party limit not stated',
      };
    }
    return {
      ...base,
      headroom: headroomOf(people, limit),
      value: out.value,
      verdict: VERDICTS[out.rank] ?? 'ruledOut',
      reason: `a party of ${people}${uncounted}; the limit is ${limit}`,
    };
  },
};
