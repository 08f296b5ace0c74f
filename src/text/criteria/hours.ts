import { MS_PER_MIN } from '../../units.ts';
import { clockOn, durationText } from '../words.ts';
import { type CriterionWords, missingText } from './words-of.ts';

export const hours: CriterionWords<'hours'> = {
  question: 'night and drive',
  words: ({ reason }) => {
    if (reason.code === 'unknown') return { reason: missingText(reason.missing) };
    const { code, wakeMs, homeMs, earliestWakingMs, mostAwakeH, zone, date } = reason;
    const clock = (ms: number) => clockOn(ms, zone, date);
    const awake = durationText((homeMs - wakeMs) / MS_PER_MIN);
    const day = `up at ${clock(wakeMs)}, home by ${clock(homeMs)} on a slow day: ${awake} awake`;
    switch (code) {
      case 'within':
        return { reason: day };
      case 'noDrive':
        return { reason: `up at ${clock(wakeMs)}, no drive counted` };
      case 'early':
        return {
          reason: `${day}; nobody of this age is woken before ${clock(earliestWakingMs)}: sleep nearer, or take a shorter route`,
        };
      case 'long':
        return {
          reason: `${day}, and a driver is awake ${mostAwakeH} h at most: sleep nearer, share the driving with someone who rested, or take a shorter route`,
        };
    }
  },
};
