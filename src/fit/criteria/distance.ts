import type { Criterion } from '../criterion.ts';
import { judgeTrainable } from '../trainable.ts';
import { atLeastLengthText, lengthText } from '../words.ts';

/** The day's distance against the longest day that everyone who goes has walked. */
export const distance: Criterion = {
  name: 'distance',
  judge: (input) => {
    const { distanceM } = input.route.measures;
    const hasGap = input.route.notes.some((note) => note.code === 'gap');
    const demandM = hasGap ? null : distanceM;
    const text = (metres: number) => lengthText(metres, input.units);
    return judgeTrainable(input, {
      name: 'distance',
      unit: 'm',
      demand: demandM,
      whyUnknown: `${text(distanceM)} are drawn, and the line has a gap: draw the line through`,
      demandText: text(distanceM),
      shown: input.shown.distanceM,
      text,
      gap: () => ({
        criterion: 'distance',
        need: { distanceM },
        text: `a day of ${atLeastLengthText(distanceM, input.units)} close to the trip; a little longer if it is earlier`,
      }),
    });
  },
};
