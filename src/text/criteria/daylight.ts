import { MS_PER_MIN } from '../../units.ts';
import { clockOn, durationText } from '../words.ts';
import { type CriterionWords, missingText } from './words-of.ts';

export const daylight: CriterionWords<'daylight'> = {
  question: 'daylight',
  words: ({ reason }) => {
    switch (reason.code) {
      case 'unknown':
        return { reason: missingText(reason.missing) };
      case 'sunNeverSets':
        return { reason: 'the sun does not set on this date' };
      case 'sunNeverRises':
        return { reason: 'the sun does not rise on this date' };
      case 'lightAllNight':
        return { reason: 'civil twilight lasts all night on this date' };
      default: {
        const { code, backMs, duskMs, beforeDuskMin, zone, date } = reason;
        const clock = (ms: number) => clockOn(ms, zone, date);
        const [back, dusk] = [clock(backMs), clock(duskMs)];
        if (code === 'back') return { reason: `back by ${back} nine times in ten; civil dusk is ${dusk}` };
        const latest = clock(duskMs - beforeDuskMin * MS_PER_MIN);
        return {
          reason: `the slowest day in ten ends at ${back}; it should end by ${latest}, ${durationText(beforeDuskMin)} before civil dusk (${dusk})`,
        };
      }
    }
  },
};
