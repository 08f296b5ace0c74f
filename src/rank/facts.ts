import { type Approach, approachTo } from '../approach/approach.ts';
import { numberAt } from '../array.ts';
import type { RankTable } from './rank-table.ts';
import { type FitRequest, type Readiness, readinessOf, wishesOf } from './readiness.ts';
import { type TableDay, tableDay } from './table-day.ts';

/** All that criteria look at: the routes of a table, the group that asks, and its day on each of them. */
export interface Facts {
  readonly table: RankTable;
  readonly request: FitRequest;
  readonly readiness: Readiness;
  /** Participants and leaders together. */
  readonly party: number;
  readonly day: TableDay;
  /** Metabolic work of a route for one person of the age band, kJ; `NaN` where heights are missing. */
  readonly workKj: (i: number, gain: number) => number;
  /** The drive from the cohort's meeting place. */
  readonly approach: (i: number) => Approach;
}

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);

/** The facts of a request for all routes of a table. */
export function factsOf(table: RankTable, request: FitRequest, readiness = readinessOf(request)): Facts {
  const { record, date, design } = request;
  const { cohort } = record;
  const { gainM, roadKm, roadMin } = table.columns;
  const work = table.effortKjOf(readiness.ageBand, design);
  const home = cohort.home == null ? null : { lonDeg: cohort.home.lon, latDeg: cohort.home.lat };
  const straightKm = home === null ? null : table.straightKmFrom(home);
  return {
    table,
    request,
    readiness,
    // Nobody goes without a leader: one at least is counted where their number is not stated.
    party: cohort.participants + (cohort.leaders ?? 1),
    day: tableDay(table, readiness.pace, date, wishesOf(record), design),
    workKj: (i, gain) => {
      if (Number.isNaN(numberAt(gainM, i))) return Number.NaN;
      return (
        numberAt(work.kj, i) * (1 + (gain - 1) * numberAt(gain > 1 ? work.perMoreGain : work.perLessGain, i))
      );
    },
    approach: (i) => {
      const stated = { roadKm: orNull(numberAt(roadKm, i)), roadMin: orNull(numberAt(roadMin, i)) };
      return approachTo(straightKm === null ? null : numberAt(straightKm, i), stated, design.drive);
    },
  };
}
