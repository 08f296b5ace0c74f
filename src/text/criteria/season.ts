import { seasonDayText } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

export const season: CriterionWords<'season'> = {
  question: 'season',
  words: ({ reason }) => {
    if (reason.code === 'notStated') return { reason: 'no season is stated', toCheck: 'season not stated' };
    const span = `${seasonDayText(reason.from)} to ${seasonDayText(reason.to)}`;
    if (reason.code !== 'closed')
      return { reason: `${reason.code === 'inSeason' ? 'in' : 'out of'} season (${span})` };
    return { reason: `closed from ${span}${reason.why === null ? '' : ` (${reason.why})`}` };
  },
};
