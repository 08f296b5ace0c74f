import type { Criterion } from '../criterion.ts';
import { judgeTrainable } from '../trainable.ts';
import { lengthText } from '../words.ts';

/** The day's distance against the longest day that everyone who goes has walked. */
export const distance: Criterion = {
  name: 'distance',
  judge: (input) => {
    const demandM = input.route.measures.distanceM;
    const text = (metres: number) => lengthText(metres, input.units);
    return judgeTrainable(input, {
      name: 'distance',
      unit: 'm',
      demand: demandM,
      whyUnknown: '',
      demandText: text(demandM),
      shown: input.shown.distanceM,
      text,
      gap: () => ({
        criterion: 'distance',
        need: { distanceM: demandM },
        text: `a day of ${text(demandM)} close to the trip; a little longer if it is earlier`,
      }),
    });
  },
};
