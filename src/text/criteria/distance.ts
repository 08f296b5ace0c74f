import { atLeastLengthText, lengthText } from '../words.ts';
import { trainedWords } from './trained.ts';
import type { CriterionWords } from './words-of.ts';

export const distance: CriterionWords<'distance'> = {
  question: 'distance',
  words: ({ reason, verdict }, units) =>
    trainedWords(reason, verdict, {
      unknown: (_, demand) =>
        `${lengthText(demand?.distanceM ?? 0, units)} are drawn, and the line has a gap: draw the line through`,
      demand: ({ distanceM }) => lengthText(distanceM, units),
      amount: (metres) => lengthText(metres, units),
      gap: ({ distanceM }) =>
        `a day of ${atLeastLengthText(distanceM, units)} close to the trip; a little longer if it is earlier`,
    }),
};
