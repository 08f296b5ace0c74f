import { effortKj } from '../../capability/effort.ts';
import { handQuantities } from '../../capability/hand-outing.ts';
import { totalQuantities } from '../../capability/quantities.ts';
import type { AgeBand, Design } from '../../design.ts';
import type { Route } from '../../route/describe-route.ts';
import { atLeastClimbText, atLeastLengthText, workText } from '../../text/words.ts';
import type { Criterion, FitInput } from '../criterion.ts';
import { missingText } from '../missing.ts';
import { judgeTrainable } from '../trainable.ts';

/** Metabolic work of the route for one person of the age band, kJ; `null` where heights are missing. */
export function routeEffortKj(route: Route, ageBand: AgeBand, design: Design): number | null {
  if (route.heightsMissing || route.measures.gainM === null) return null;
  return effortKj(totalQuantities(route.pieces), ageBand, design);
}

/** A day there and back of the route's proportions whose work is the demand: what a hand-entered outing would need. */
function equalDay(input: FitInput, demandKj: number): { distanceM: number; gainM: number } {
  const { distanceM, gainM } = input.route.measures;
  const dayOf = (scale: number) => ({ distanceM: distanceM * scale, gainM: (gainM?.value ?? 0) * scale });
  const workOf = (scale: number) => {
    const day = dayOf(scale);
    return effortKj(handQuantities(day.distanceM, day.gainM), input.ageBand, input.design);
  };
  let low = 0;
  let high = 2;
  while (workOf(high) < demandKj && high < 64) high *= 2;
  for (let i = 0; i < 50; i += 1) {
    const middle = (low + high) / 2;
    if (workOf(middle) >= demandKj) high = middle;
    else low = middle;
  }
  return dayOf(high);
}

/** The work of the whole day (distance and climb together) against the hardest day that everyone who goes has done. */
export const effort: Criterion = {
  name: 'effort',
  judge: (input) => {
    const demandKj = input.workKj;
    return judgeTrainable(input, {
      name: 'effort',
      unit: 'kJ',
      demand: demandKj,
      whyUnknown: () => missingText(input.route),
      demandText: `${workText(demandKj ?? 0)} of work each`,
      shown: input.shown.effortKj,
      text: workText,
      gap: () => {
        const day = equalDay(input, demandKj ?? 0);
        return {
          criterion: 'effort',
          need: day,
          text: `a day of that much work, for example ${atLeastLengthText(day.distanceM, input.units)} with ${atLeastClimbText(day.gainM, input.units)} of climb close to the trip`,
        };
      },
    });
  },
};
