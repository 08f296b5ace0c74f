import { numberAt } from '../../array.ts';
import { shownGain, shownGainOf } from '../../capability/demonstrated.ts';
import type { Criterion } from '../criterion.ts';
import { missingOf } from '../missing.ts';
import type { RankTable } from '../rank-table.ts';
import { type TrainedReason, trainedBy, trainedReason } from '../trained.ts';

/** A climb, at the upper end of its band, and its doubt as a share; `credit`: as much of the doubt as the outing shares. */
export interface GainDemand {
  readonly gainM: number;
  readonly highM: number;
  readonly doubt: number;
  readonly credit: number;
}

export type GainReason = TrainedReason<GainDemand>;

/** How far the upper end of a climb's band lies above it, as a share. */
export function gainDoubt({ columns }: Pick<RankTable, 'columns'>, i: number): number {
  const gainM = numberAt(columns.gainM, i);
  return gainM > 0 ? numberAt(columns.gainHighM, i) / gainM - 1 : 0;
}

/** The day's climb, taken at the upper end of its band, against the biggest climb that everyone who goes has done. */
export const gain: Criterion<'gain', GainReason> = {
  name: 'gain',
  unit: 'm',
  isShifted: true,
  over({ table, readiness, request: { design } }) {
    const trained = trainedBy(readiness.ageBand, design, readiness.shown.restsOnOneOldDay);
    const { gainHighM } = table.columns;
    const shownM = shownGainOf(readiness.shown.climbs);
    return (i, { shown, gain: factor }, out) =>
      trained(numberAt(gainHighM, i) * factor, shownM(gainDoubt(table, i)) * shown, out);
  },
  reason(subject, outcome) {
    const { facts, i, route } = subject;
    const band = route.heightsMissing ? null : route.measures.gainM;
    const doubt = gainDoubt(facts.table, i);
    const shown = shownGain(facts.readiness.shown.climbs, doubt);
    return trainedReason(subject, outcome, {
      missing: missingOf(route),
      demand:
        band === null ? null : { gainM: band.value, highM: band.high, doubt, credit: shown?.credit ?? 0 },
      shown,
      need: () => ({ gainM: outcome.demand }),
    });
  },
};
