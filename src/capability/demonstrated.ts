import { at, last, numberAt } from '../array.ts';
import type { AgeBand, Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import { isHarderClass, rockClassValue } from '../ingest/rock-class.ts';
import { remaining } from './detraining.ts';
import { effortKj } from './effort.ts';
import type { Outing } from './outing.ts';

/** The most that everyone who goes has shown of one quantity, on the trip's date. */
export interface Shown {
  /** Less what time has taken away. */
  readonly value: number;
  /** As it was on the day. */
  readonly asWalked: number;
  readonly date: string;
  readonly daysBefore: number;
}

interface ShownClass {
  readonly text: string;
  readonly value: number;
}

/** A climb shown, with what it is credited for a doubt that it shares with the route, as a share. */
export interface ShownGain extends Shown {
  readonly credit: number;
}

/** A climb that somebody has done. */
export interface Climb {
  readonly date: string;
  readonly daysBefore: number;
  readonly gainM: number;
  /** How far the upper end of its band lies above it, as a share; 0 for one entered by hand. */
  readonly doubt: number;
  /** Share that time has left. */
  readonly kept: number;
}

/** Demonstrated capability. `null`: somebody who goes has shown nothing of it. */
export interface Demonstrated {
  readonly distanceM: Shown | null;
  readonly gainM: Shown | null;
  /** For each one who goes, the climbs that `shownGain` chooses from. */
  readonly climbs: readonly (readonly Climb[])[];
  readonly effortKj: Shown | null;
  readonly rockClass: ShownClass | null;
  /** Highest recent point that everyone who goes has been on, metres: told, never scored. */
  readonly highestM: number | null;
  /** No labels, so outings were taken to count for everyone. */
  readonly assumedForAll: boolean;
  /** Labels of those who go and have no outing. For leaders only: never in a shortlist or on a print. */
  readonly membersWithout: readonly string[];
}

export interface Goers {
  readonly members: readonly string[] | null;
  readonly going: readonly string[] | null;
  readonly ageBand: AgeBand;
}

/** The labels of those who go; `null` where nobody is labelled. An empty list says nothing. */
export function labelsOf({ going, members }: Pick<Goers, 'going' | 'members'>): readonly string[] | null {
  if (going !== null && going.length > 0) return going;
  return members !== null && members.length > 0 ? members : null;
}

/**
 * Whether somebody who goes was on an outing. One without labels counts for everyone; one whose people have all left
 * the cohort (an empty list) counts for nobody.
 */
export function wasThere({ members }: Outing, labels: readonly string[] | null): boolean {
  if (members === null) return true;
  return labels === null ? members.length > 0 : members.some((label) => labels.includes(label));
}

function best(
  outings: readonly Outing[],
  tripDate: string,
  amountOf: (outing: Outing) => number | null,
  keeps: (days: number) => number,
): Shown | null {
  let found: Shown | null = null;
  for (const outing of outings) {
    const daysBefore = daysBetween(outing.date, tripDate);
    if (daysBefore < 0) continue;
    const asWalked = amountOf(outing);
    if (asWalked === null) continue;
    const value = asWalked * keeps(daysBefore);
    if (value > 0 && (found === null || value > found.value)) {
      found = { value, asWalked, date: outing.date, daysBefore };
    }
  }
  return found;
}

function hardestClass(outings: readonly Outing[], tripDate: string, memoryDays: number): ShownClass | null {
  let found: ShownClass | null = null;
  for (const outing of outings) {
    const days = daysBetween(outing.date, tripDate);
    if (outing.rockClass === null || days < 0 || days > memoryDays) continue;
    const value = rockClassValue(outing.rockClass);
    if (found === null || isHarderClass(outing.rockClass, found.text))
      found = { text: outing.rockClass, value };
  }
  return found;
}

function highest(outings: readonly Outing[], tripDate: string, memoryDays: number): number | null {
  const heights = outings.flatMap(({ date, highM }) => {
    const days = daysBetween(date, tripDate);
    return highM === null || days < 0 || days > memoryDays ? [] : [highM];
  });
  return heights.length === 0 ? null : Math.max(...heights);
}

function climbsOf(outings: readonly Outing[], tripDate: string, keeps: (days: number) => number): Climb[] {
  return outings.flatMap((outing) => {
    const daysBefore = daysBetween(outing.date, tripDate);
    const { date, gainM, gainHighM } = outing;
    if (daysBefore < 0 || gainM === null || gainM <= 0) return [];
    const doubt = (gainHighM ?? gainM) / gainM - 1;
    return [{ date, daysBefore, gainM, doubt, kept: keeps(daysBefore) }];
  });
}

/** The least of the members' values; `null` as soon as one has none. */
function least<T extends { readonly value: number }>(values: readonly (T | null)[]): T | null {
  let found: T | null = null;
  for (const value of values) {
    if (value === null) return null;
    if (found === null || value.value < found.value) found = value;
  }
  return found;
}

/**
 * The climb that everyone who goes has shown, against a route whose gain is ranked on its upper end. An outing
 * measured on the same kind of terrain has the same doubt: what both share is not held against the group twice,
 * and only that. So a route walked yesterday is within what was shown yesterday.
 *
 * @param routeDoubt how far the upper end of the route's gain lies above its value, as a share; 0 for none
 */
export function shownGain(climbs: readonly (readonly Climb[])[], routeDoubt: number): ShownGain | null {
  return least(
    climbs.map((own) => {
      let found: ShownGain | null = null;
      for (const { date, daysBefore, gainM, doubt, kept } of own) {
        const credit = Math.min(Math.max(0, doubt), Math.max(0, routeDoubt));
        const asWalked = gainM * (1 + credit);
        const value = asWalked * kept;
        if (value > 0 && (found === null || value > found.value))
          found = { value, asWalked, date, daysBefore, credit };
      }
      return found;
    }),
  );
}

/**
 * `shownGain` made ready for many routes: what it gives of `value`, metres; `NaN` where somebody has shown no climb.
 * Members with the same climbs are looked at once.
 */
export function shownGainOf(climbs: readonly (readonly Climb[])[]): (routeDoubt: number) => number {
  const own = [...new Map(climbs.map((list) => [JSON.stringify(list), list])).values()];
  const from = [0];
  for (const list of own) from.push(last(from) + list.length);
  const all = own.flat();
  const gainsM = Float64Array.from(all, ({ gainM }) => gainM);
  const keeps = Float64Array.from(all, ({ kept }) => kept);
  const doubts = Float64Array.from(all, ({ doubt }) => Math.max(0, doubt));
  return (routeDoubt) => {
    const most = Math.max(0, routeDoubt);
    let leastM = Number.POSITIVE_INFINITY;
    for (let member = 0; member < own.length; member += 1) {
      let bestM = 0;
      for (let c = at(from, member); c < at(from, member + 1); c += 1) {
        const valueM = numberAt(gainsM, c) * (1 + Math.min(numberAt(doubts, c), most)) * numberAt(keeps, c);
        if (valueM > bestM) bestM = valueM;
      }
      if (bestM < leastM) leastM = bestM;
    }
    return leastM > 0 && Number.isFinite(leastM) ? leastM : Number.NaN;
  };
}

/** What one of those who go has shown, or all of them alike where nobody is labelled. */
interface OwnShown {
  readonly distanceM: Shown | null;
  readonly climbs: readonly Climb[];
  readonly effortKj: Shown | null;
  readonly rockClass: ShownClass | null;
  readonly highestM: number | null;
  readonly hasPast: boolean;
}

function ownShown(own: readonly Outing[], ageBand: AgeBand, tripDate: string, design: Design): OwnShown {
  const keeps = (days: number) => remaining(days, ageBand, design.detraining);
  const { rockClassDays } = design.detraining;
  return {
    distanceM: best(own, tripDate, (outing) => outing.distanceM, keeps),
    climbs: climbsOf(own, tripDate, keeps),
    effortKj: best(
      own,
      tripDate,
      ({ quantities }) => (quantities === null ? null : effortKj(quantities, ageBand, design)),
      keeps,
    ),
    rockClass: hardestClass(own, tripDate, rockClassDays),
    highestM: highest(own, tripDate, rockClassDays),
    hasPast: own.some((outing) => daysBetween(outing.date, tripDate) >= 0),
  };
}

const greater = (one: Shown | null, other: Shown | null): Shown | null =>
  one === null || (other !== null && other.value > one.value) ? other : one;

/** Both together; of what is equal the first counts. */
function joined(one: OwnShown, other: OwnShown): OwnShown {
  const [a, b] = [one.rockClass, other.rockClass];
  return {
    distanceM: greater(one.distanceM, other.distanceM),
    climbs: [...one.climbs, ...other.climbs],
    effortKj: greater(one.effortKj, other.effortKj),
    rockClass: a === null || (b !== null && isHarderClass(b.text, a.text)) ? b : a,
    highestM:
      one.highestM === null || other.highestM === null
        ? (one.highestM ?? other.highestM)
        : Math.max(one.highestM, other.highestM),
    hasPast: one.hasPast || other.hasPast,
  };
}

/** @param each in the order of the labels; one alone where there are none */
function byAll(
  each: readonly OwnShown[],
  labels: readonly string[] | null,
  assumedForAll: boolean,
): Demonstrated {
  const climbs = each.map((own) => own.climbs);
  const heights = each.flatMap(({ highestM }) => (highestM === null ? [] : [highestM]));
  return {
    distanceM: least(each.map((own) => own.distanceM)),
    gainM: shownGain(climbs, 0),
    climbs,
    effortKj: least(each.map((own) => own.effortKj)),
    rockClass: least(each.map((own) => own.rockClass)),
    highestM: heights.length < each.length ? null : Math.min(...heights),
    assumedForAll,
    membersWithout: labels === null ? [] : labels.filter((_, i) => each[i]?.hasPast !== true),
  };
}

/**
 * What everyone who goes will have shown with one more day on their record, made ready for one such day after another:
 * for each, `demonstrated` of the outings and the day behind them.
 */
export function demonstratedWith(
  outings: readonly Outing[],
  goers: Goers,
  tripDate: string,
  design: Design,
): (day: Outing | null) => Demonstrated {
  const labels = labelsOf(goers);
  const asked = labels ?? [null];
  const own = (outing: Outing, label: string | null) => wasThere(outing, label === null ? null : [label]);
  const each = asked.map((label) =>
    ownShown(
      outings.filter((outing) => own(outing, label)),
      goers.ageBand,
      tripDate,
      design,
    ),
  );
  const assumedForAll = labels === null || outings.some((outing) => outing.members === null);
  return (day) => {
    if (day === null) return byAll(each, labels, assumedForAll);
    const more = ownShown([day], goers.ageBand, tripDate, design);
    return byAll(
      each.map((before, i) => (own(day, asked[i] ?? null) ? joined(before, more) : before)),
      labels,
      assumedForAll || day.members === null,
    );
  };
}

/**
 * What everyone who goes has already done: for each quantity the minimum over those who go of each one's best
 * outing up to the trip's date, less detraining. Outings after that date do not count.
 */
export const demonstrated = (
  outings: readonly Outing[],
  goers: Goers,
  tripDate: string,
  design: Design,
): Demonstrated => demonstratedWith(outings, goers, tripDate, design)(null);
