import type { CriterionWords } from './words-of.ts';

export const partySize: CriterionWords<'partySize'> = {
  question: 'party',
  words: ({ reason: { code, people, isLeadersStated, limit } }) => {
    const party = `a party of ${people}${isLeadersStated ? ', leaders included' : ' with one leader'}`;
    if (code === 'large') {
      return { reason: `${party}, and many places take fewer: enter the limit of this one` };
    }
    return code === 'notStated'
      ? { reason: `${party}; no limit is stated`, toCheck: 'party limit not stated' }
      : { reason: `${party}; the limit is ${limit}` };
  },
};
