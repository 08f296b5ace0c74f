import { altitudeGroundsText } from '../altitude-words.ts';
import { heightText } from '../words.ts';
import { type CriterionWords, missingText } from './words-of.ts';

export const altitude: CriterionWords<'altitude'> = {
  question: 'altitude',
  words: ({ reason }, units) => {
    if (reason.code === 'unknown') return { reason: missingText(reason.missing) };
    const { code, grounds, riseM, isSleepStated, isHistoryStated } = reason;
    const advice = code === 'high' ? ': sleep lower, or take more nights' : '';
    const rise =
      riseM === null
        ? ''
        : `; its top is ${heightText(riseM, units)} above the highest point that everyone who goes has on record`;
    const asked = [
      ...(isSleepStated ? [] : ['sleeping height not stated (the trailhead’s was used)']),
      ...(isHistoryStated ? [] : ['altitude history not stated (none was assumed)']),
    ];
    return {
      reason: `${code} risk by sleeping height and history: ${altitudeGroundsText(grounds, units)}${advice}${rise}`,
      toCheck: asked.length > 0 ? asked.join('; ') : null,
    };
  },
};
