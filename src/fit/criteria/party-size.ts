import { type Criterion, headroomOf, type Judgement } from '../criterion.ts';
import { LEAST_VALUE } from '../value.ts';

/** Participants and leaders together against the place's party limit. */
export const partySize: Criterion = {
  name: 'partySize',
  judge: ({ route, cohort, party }): Judgement => {
    const limit = route.attributes.groupSizeLimit ?? null;
    const people = party;
    const uncounted = cohort.leaders == null ? ' with one leader' : '';
    const base = {
      name: 'partySize' as const,
      demand: people,
      capacity: limit,
      unit: 'people',
      headroom: null,
    };
    if (limit === null) {
      return {
        ...base,
        value: 0.9,
        verdict: 'fits',
        reason: `a party of ${people}${uncounted}; no limit is stated`,
        toCheck: 'party limit not stated',
      };
    }
    const fits = people <= limit;
    return {
      ...base,
      headroom: headroomOf(people, limit),
      value: fits ? 1 : LEAST_VALUE,
      verdict: fits ? 'fits' : 'ruledOut',
      reason: `a party of ${people}${uncounted}; the limit is ${limit}`,
    };
  },
};
