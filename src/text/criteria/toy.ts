import type { CriterionWords } from './words-of.ts';

export const toy: CriterionWords<'toy'> = {
  question: 'toy',
  words: ({ reason }) => ({ reason: reason.code === 'short' ? 'short enough' : 'too long' }),
};
