import { shownGain } from '../../capability/demonstrated.ts';
import type { Criterion } from '../criterion.ts';
import { missingText } from '../missing.ts';
import { judgeTrainable } from '../trainable.ts';
import { atLeastClimbText, climbText } from '../words.ts';

/** The day's climb, taken at the upper end of its band, against the biggest climb that everyone who goes has done. */
export const gain: Criterion = {
  name: 'gain',
  judge: (input) => {
    const { heightsMissing, measures } = input.route;
    const band = heightsMissing ? null : measures.gainM;
    const demandM = band?.high ?? null;
    const doubt = band === null || band.value <= 0 ? 0 : band.high / band.value - 1;
    const shown = shownGain(input.shown.climbs, doubt);
    const text = (metres: number) => climbText(metres, input.units);
    return judgeTrainable(input, {
      name: 'gain',
      unit: 'm',
      demand: demandM,
      whyUnknown: missingText(input.route),
      demandText:
        band === null
          ? ''
          : text(band.value) === text(band.high)
            ? `a climb of ${text(band.high)}`
            : `a climb of ${text(band.value)} (up to ${text(band.high)} with the doubt of line and terrain)`,
      shown,
      shownAside:
        shown !== null && input.shown.gainM !== null && shown.value > 1.03 * input.shown.gainM.value
          ? 'its upper figure too, measured alike'
          : null,
      text,
      gap: () => ({
        criterion: 'gain',
        need: { gainM: demandM ?? 0 },
        text: `a day with ${atLeastClimbText(demandM ?? 0, input.units)} of climb close to the trip; a little more if it is earlier`,
      }),
    });
  },
};
