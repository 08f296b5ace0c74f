import { temperatureText } from '../amount-text.ts';
import { clockOn } from '../words.ts';
import { type CriterionWords, missingText } from './words-of.ts';

export const heat: CriterionWords<'heat'> = {
  question: 'heat',
  words: ({ reason }, units) => {
    if (reason.code === 'unknown') return { reason: missingText(reason.missing) };
    if (reason.code === 'mild') return { reason: 'no hot country or season' };
    const { code, hotDayC, isVeryHot, startMs, backMs, heatFromMs, zone, date } = reason;
    const clock = (ms: number) => clockOn(ms, zone, date);
    const usual = `a hot day here can reach ${temperatureText(hotDayC, units)} at this time of year (by latitude and height, no forecast)`;
    const toCheck = `heat: ask the forecast; ${usual}`;
    const times = `start ${clock(startMs)}, back by ${clock(backMs)} on a slow day; it is hot from ${clock(heatFromMs)}`;
    if (code === 'beforeHeat') return { reason: `${times}; ${usual}`, toCheck };
    const then = isVeryHot
      ? 'go only if the forecast for that day says that it is cool, or take a shorter day, a higher one or another month'
      : 'start at dawn, or take a shorter or higher day';
    return { reason: `${times}; ${usual}: ${then}`, toCheck };
  },
};
