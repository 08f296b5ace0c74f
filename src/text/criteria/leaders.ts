import { plural } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

export const leaders: CriterionWords<'leaders'> = {
  question: 'leaders',
  words: ({ reason: { code, leaders: lead, participants, needed, mostParticipants }, verdict }) => {
    const rule = `${plural(participants, 'participant')} of this age: ${plural(needed, 'leader')} needed`;
    if (code === 'notStated') {
      const asked = `${rule}; how many lead is not stated: enter it`;
      return verdict === 'fits'
        ? { reason: asked, toCheck: 'number of leaders not stated' }
        : { reason: asked };
    }
    if (code === 'enough') return { reason: `${rule}, and ${lead} lead` };
    const fewer =
      mostParticipants === null ? '' : `, or take ${plural(mostParticipants, 'participant')} at most`;
    return {
      reason: `${rule}, and ${lead === 0 ? 'none leads' : `only ${plural(lead ?? 0, 'leader')}`}: bring ${plural(needed - (lead ?? 0), 'more leader')}${fewer}`,
    };
  },
};
