import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { areMinors, leastLeaders, partyOf } from '../party.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT } from '../verdict.ts';

export interface LeadersReason extends AnyReason {
  readonly code: 'notStated' | 'enough' | 'tooFew';
  /** `null`: not stated. */
  readonly leaders: number | null;
  readonly participants: number;
  readonly needed: number;
  /** As many participants as these leaders may take; `null`: none, or it is not stated how many lead. */
  readonly mostParticipants: number | null;
}

/**
 * Whether as many lead as the program asks for: so many at least, and one for so many participants, by age (common
 * practice, no source; the numbers are settings of the program). Minors whose leaders are not stated stay open.
 */
export const leaders: Criterion<'leaders', LeadersReason> = {
  name: 'leaders',
  unit: 'people',
  isShifted: false,
  over({ request: { record, design } }) {
    const party = partyOf(record.cohort);
    const { whole } = leastLeaders(party, design);
    return (_i, _shift, out) => {
      const isOpen = party.leaders === null;
      if (isOpen && areMinors(party)) answer(out, 'notStated', INCOMPLETE, LEAST_VALUE);
      else if (isOpen) answer(out, 'notStated', FITS, NOT_STATED_VALUE);
      else if ((party.leaders ?? 0) >= whole) answer(out, 'enough', FITS, 1);
      else answer(out, 'tooFew', RULED_OUT, LEAST_VALUE);
      compare(out, whole, party.leaders ?? Number.NaN);
    };
  },
  reason({ facts }, { code, demand }) {
    const { record, design } = facts.request;
    const party = partyOf(record.cohort);
    const { mostParticipants } = leastLeaders(party, design);
    const { participants, leaders: lead } = party;
    return {
      code: code as LeadersReason['code'],
      ...{ leaders: lead, participants, needed: demand, mostParticipants },
    };
  },
};
