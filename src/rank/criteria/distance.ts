import { atLeastLengthText, lengthText } from '../../text/words.ts';
import type { Criterion, FitInput } from '../criterion.ts';
import { judgeTrainable } from '../trainable.ts';

/** Metres of the day; `null` where the line has a gap. */
export const distanceDemandM = ({ route }: Pick<FitInput, 'route'>): number | null =>
  route.notes.some((note) => note.code === 'gap') ? null : route.measures.distanceM;

/** The day's distance against the longest day that everyone who goes has walked. */
export const distance: Criterion = {
  name: 'distance',
  judge: (input) => {
    const { distanceM } = input.route.measures;
    const text = (metres: number) => lengthText(metres, input.units);
    return judgeTrainable(input, {
      name: 'distance',
      unit: 'm',
      demand: distanceDemandM(input),
      whyUnknown: () => `${text(distanceM)} are drawn, and the line has a gap: draw the line through`,
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
