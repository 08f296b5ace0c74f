import { numberAt } from '../../array.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { LEAST_VALUE, NOT_STATED_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT } from '../verdict.ts';

export interface PartySizeReason extends AnyReason {
  readonly code: 'notStated' | 'large' | 'within' | 'above';
  readonly people: number;
  readonly isLeadersStated: boolean;
  readonly limit: number | null;
}

/**
 * Participants and leaders together against the place's party limit. Where none is stated it is a check; a party larger
 * than many places take stays open (setting `party.mostUnstated`).
 */
export const partySize: Criterion<'partySize', PartySizeReason> = {
  name: 'partySize',
  unit: 'people',
  isShifted: false,
  over({ table: { columns }, party, request: { design } }) {
    const isLarge = party > design.party.mostUnstated;
    return (i, _shift, out) => {
      const limit = numberAt(columns.partyLimit, i);
      if (Number.isNaN(limit) && isLarge) answer(out, 'large', INCOMPLETE, LEAST_VALUE);
      else if (Number.isNaN(limit)) answer(out, 'notStated', FITS, NOT_STATED_VALUE);
      else if (party <= limit) answer(out, 'within', FITS, 1);
      else answer(out, 'above', RULED_OUT, LEAST_VALUE);
      compare(out, party, limit);
    };
  },
  reason({ facts, route }, { code }) {
    return {
      code: code as PartySizeReason['code'],
      people: facts.party,
      isLeadersStated: facts.request.record.cohort.leaders != null,
      limit: route.attributes.groupSizeLimit ?? null,
    };
  },
};
