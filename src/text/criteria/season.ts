import { heightText, seasonDayText } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

export const season: CriterionWords<'season'> = {
  question: 'season',
  words: ({ reason }, units) => {
    if (reason.code === 'notStated') return { reason: 'no season is stated', toCheck: 'season not stated' };
    if (reason.code === 'snowMayLie') {
      const at = reason.highM === null ? '' : ` at ${heightText(reason.highM, units)}`;
      return {
        reason: `no season is stated, and snow may lie${at} at this time of year: state the season in which the route is open and free of snow`,
      };
    }
    if (reason.code === 'steepSnow') {
      const { steepestDeg } = reason;
      const steep =
        steepestDeg === null ? 'ground of unknown steepness' : `ground of up to ${Math.round(steepestDeg)}°`;
      return {
        reason: `snow is stated, on ${steep}, where it can slide: ask the avalanche service; once it is free of snow, state the surface`,
      };
    }
    const span = `${seasonDayText(reason.from)} to ${seasonDayText(reason.to)}`;
    if (reason.code !== 'closed')
      return { reason: `${reason.code === 'inSeason' ? 'in' : 'out of'} season (${span})` };
    return { reason: `closed from ${span}${reason.why === null ? '' : ` (${reason.why})`}` };
  },
};
