import { numberAt } from '../../array.ts';
import type { Criterion } from '../criterion.ts';
import { type TrainedReason, trainedBy, trainedReason } from '../trained.ts';

export type DistanceReason = TrainedReason<{ readonly distanceM: number }>;

/** The day's distance against the longest day that everyone who goes has walked; not known where the line has a gap. */
export const distance: Criterion<'distance', DistanceReason> = {
  name: 'distance',
  unit: 'm',
  isShifted: true,
  over({ table: { columns }, readiness: { ageBand, shown: had }, request: { design } }) {
    const trained = trainedBy(ageBand, design, had.restsOnOneOldDay);
    const shownM = had.distanceM?.value ?? Number.NaN;
    return (i, { shown }, out) => {
      const demandM = numberAt(columns.hasGap, i) === 1 ? Number.NaN : numberAt(columns.distanceM, i);
      trained(demandM, shownM * shown, out);
    };
  },
  reason(subject, outcome) {
    const { distanceM } = subject.route.measures;
    return trainedReason(subject, outcome, {
      missing: 'lineGap',
      demand: { distanceM },
      shown: subject.facts.readiness.shown.distanceM,
      need: () => ({ distanceM }),
    });
  },
};
