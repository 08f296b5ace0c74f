import type { Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import { type Goers, labelsOf, wasThere } from './demonstrated.ts';
import { remaining } from './detraining.ts';
import type { Outing } from './outing.ts';

/** One of the three days of training before a summit (common practice, no source). */
export interface Milestone {
  readonly name: 'distanceDay' | 'gainDay' | 'bothDay';
  /** Whether everyone who goes has had such a day within the training window. */
  readonly done: boolean;
  /** The day by which the last of them had it; `null` where it is not done. */
  readonly date: string | null;
}

/** Distance of the route, and its climb at the upper end and at its value; metres. */
export interface MilestoneDemand {
  readonly distanceM: number;
  readonly gainM: number;
  readonly gainHighM: number;
}

type Had = (outing: Outing, demand: MilestoneDemand) => boolean;

const far: Had = (outing, { distanceM }) => outing.distanceM >= distanceM;
const high: Had = ({ gainM, source }, demand) =>
  gainM !== null && gainM >= (source === 'track' ? demand.gainM : demand.gainHighM);
const both: Had = (outing, demand) => far(outing, demand) && high(outing, demand);

/** @param perGoer the outings of each, the latest first */
function milestone(
  name: Milestone['name'],
  perGoer: readonly (readonly Outing[])[],
  had: Had,
  demand: MilestoneDemand,
): Milestone {
  let last: string | null = null;
  for (const own of perGoer) {
    const date = own.find((outing) => had(outing, demand))?.date ?? null;
    if (date === null) return { name, done: false, date: null };
    if (last === null || date > last) last = date;
  }
  return { name, done: last !== null, date: last };
}

/**
 * The three training days for a route: one with its distance, one with its climb, one with both, as walked. A climb
 * measured from a track is held against the route's own measured climb; one entered by hand against its upper end.
 */
export function milestonesOn(
  outings: readonly Outing[],
  goers: Goers,
  tripDate: string,
  design: Design,
): (demand: MilestoneDemand) => readonly Milestone[] {
  const recent = outings
    .filter((outing) => {
      const days = daysBetween(outing.date, tripDate);
      return days >= 0 && remaining(days, goers.ageBand, design.detraining) > 0.5;
    })
    .sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0));
  const labels = labelsOf(goers);
  const perGoer = (labels ?? [null]).map((label) =>
    recent.filter((outing) => wasThere(outing, label === null ? null : [label])),
  );
  return (demand) => [
    milestone('distanceDay', perGoer, far, demand),
    milestone('gainDay', perGoer, high, demand),
    milestone('bothDay', perGoer, both, demand),
  ];
}
