import { effortKj } from '../../capability/effort.ts';
import { handQuantities } from '../../capability/hand-outing.ts';
import type { Criterion, Subject } from '../criterion.ts';
import { missingOf } from '../missing.ts';
import { type TrainedReason, trainedBy, trainedReason } from '../trained.ts';

export type EffortReason = TrainedReason<{ readonly workKj: number }>;

/** A day there and back of the route's proportions whose work is the demand: what a hand-entered outing would need. */
function equalDay({ facts, route }: Subject, demandKj: number): { distanceM: number; gainM: number } {
  const { distanceM, gainM } = route.measures;
  const dayOf = (scale: number) => ({ distanceM: distanceM * scale, gainM: (gainM?.value ?? 0) * scale });
  const workOf = (scale: number) => {
    const day = dayOf(scale);
    return effortKj(handQuantities(day.distanceM, day.gainM), facts.readiness.ageBand, facts.request.design);
  };
  let low = 0;
  let high = 2;
  while (workOf(high) < demandKj && high < 64) high *= 2;
  for (let halving = 0; halving < 50; halving += 1) {
    const middle = (low + high) / 2;
    if (workOf(middle) >= demandKj) high = middle;
    else low = middle;
  }
  return dayOf(high);
}

/** The work of the whole day (distance and climb together) against the hardest day that everyone who goes has done. */
export const effort: Criterion<'effort', EffortReason> = {
  name: 'effort',
  unit: 'kJ',
  isShifted: true,
  over({ readiness, workKj, request: { design } }) {
    const trained = trainedBy(readiness.ageBand, design, readiness.shown.restsOnOneOldDay);
    const shownKj = readiness.shown.effortKj?.value ?? Number.NaN;
    return (i, { shown, gain }, out) => trained(workKj(i, gain), shownKj * shown, out);
  },
  reason(subject, outcome) {
    const workKj = outcome.demand;
    return trainedReason(subject, outcome, {
      missing: missingOf(subject.route),
      demand: Number.isNaN(workKj) ? null : { workKj },
      shown: subject.facts.readiness.shown.effortKj,
      need: () => equalDay(subject, workKj),
    });
  },
};
