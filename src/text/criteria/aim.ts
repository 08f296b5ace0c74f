import { percentText } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

export const aim: CriterionWords<'aim'> = {
  question: 'aim',
  words: ({ reason }) => {
    if (reason.code === 'unknown') return { reason: 'what the group has shown is not known' };
    const { share, target, aim: kind, isAimStated } = reason;
    const day = kind === 'comfort' ? 'a comfortable day' : 'a challenge';
    const wished = isAimStated ? `the group is after ${day}` : `no aim is stated: ${day} was taken`;
    return {
      reason: `${percentText(share)} of the work of the hardest day shown; ${wished}, about ${percentText(target)}`,
    };
  },
};
