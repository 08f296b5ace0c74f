import type { GainDemand } from '../../rank/criteria/gain.ts';
import type { UnitSystem } from '../../units.ts';
import { atLeastClimbText, climbText } from '../words.ts';
import { trainedWords } from './trained.ts';
import type { CriterionWords } from './words-of.ts';

/** A credit below this is not worth telling, as a share (design). */
const LEAST_CREDIT = 0.01;

/** Whether the outing shares all but a tenth of the doubt. */
const isAlike = ({ credit, doubt }: GainDemand): boolean => credit > 0.9 * doubt && credit > LEAST_CREDIT;

function demandText(demand: GainDemand, units: UnitSystem): string {
  const { gainM, highM, credit } = demand;
  const whose = credit > LEAST_CREDIT ? 'its own line and terrain' : 'line and terrain';
  const middle = climbText(gainM, units);
  const upper = climbText(isAlike(demand) ? gainM : highM / (1 + credit), units);
  return middle === upper
    ? `a climb of ${middle}`
    : `a climb of ${middle} (up to ${upper} with the doubt of ${whose})`;
}

export const gain: CriterionWords<'gain'> = {
  question: 'climb',
  words: ({ reason, verdict }, units) =>
    trainedWords(reason, verdict, {
      demand: (demand) => demandText(demand, units),
      // What the outing is credited with for a doubt that both share is left out of both figures when they are told.
      amount: (metres, { credit }) => climbText(metres / (1 + credit), units),
      aside: (demand) => (isAlike(demand) ? ', measured alike' : ''),
      gap: ({ highM }) =>
        `a day with ${atLeastClimbText(highM, units)} of climb close to the trip; a little more if it is earlier`,
    }),
};
