import { atLeastClimbText, atLeastLengthText, workText } from '../words.ts';
import { trainedWords } from './trained.ts';
import type { CriterionWords } from './words-of.ts';

export const effort: CriterionWords<'effort'> = {
  question: 'work of the day',
  words: ({ reason, verdict }, units) =>
    trainedWords(reason, verdict, {
      demand: ({ workKj }) => `${workText(workKj)} of work each`,
      amount: workText,
      gap: (_, { need }) => {
        const length = atLeastLengthText(Number(need?.distanceM), units);
        return `a day of that much work, for example ${length} with ${atLeastClimbText(Number(need?.gainM), units)} of climb close to the trip`;
      },
    }),
};
