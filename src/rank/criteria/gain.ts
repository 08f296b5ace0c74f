import { shownGain } from '../../capability/demonstrated.ts';
import type { Band } from '../../route/gain.ts';
import { atLeastClimbText, climbText } from '../../text/words.ts';
import type { Criterion, FitInput } from '../criterion.ts';
import { missingText } from '../missing.ts';
import { judgeTrainable } from '../trainable.ts';

/** The day's climb with its doubt as a share; `null` where heights are missing. */
export function gainDemandOf({
  route,
}: Pick<FitInput, 'route'>): { readonly band: Band; readonly doubt: number } | null {
  const band = route.heightsMissing ? null : route.measures.gainM;
  return band === null ? null : { band, doubt: band.value <= 0 ? 0 : band.high / band.value - 1 };
}

/** The day's climb, taken at the upper end of its band, against the biggest climb that everyone who goes has done. */
export const gain: Criterion = {
  name: 'gain',
  judge: (input) => {
    const { band = null, doubt = 0 } = gainDemandOf(input) ?? {};
    const demandM = band?.high ?? null;
    const shown = shownGain(input.shown.climbs, doubt);
    // What the outing is credited with for a doubt that both share is left out of both figures when they are told.
    const credit = shown === null ? 0 : shown.credit;
    const text = (metres: number) => climbText(metres, input.units);
    const isAlike = credit > 0.9 * doubt && credit > 0.01;
    const whose = credit > 0.01 ? 'its own line and terrain' : 'line and terrain';
    const [middle, upper] =
      band === null ? ['', ''] : [text(band.value), text(isAlike ? band.value : band.high / (1 + credit))];
    return judgeTrainable(input, {
      name: 'gain',
      unit: 'm',
      demand: demandM,
      whyUnknown: () => missingText(input.route),
      demandText:
        middle === upper
          ? `a climb of ${middle}`
          : `a climb of ${middle} (up to ${upper} with the doubt of ${whose})`,
      asideShown: isAlike ? ', measured alike' : '',
      shown,
      credited: 1 + credit,
      text,
      gap: () => ({
        criterion: 'gain',
        need: { gainM: demandM ?? 0 },
        text: `a day with ${atLeastClimbText(demandM ?? 0, input.units)} of climb close to the trip; a little more if it is earlier`,
      }),
    });
  },
};
