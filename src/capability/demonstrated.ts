import { at, last, numberAt } from '../array.ts';
import type { AgeBand, Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import { harderClass, isHarderClass, rockClassValue } from '../ingest/rock-class.ts';
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
  /** Somebody who goes has walked one day alone that counts, and that long ago: it is no habit. */
  readonly restsOnOneOldDay: boolean;
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

/** An outing up to the trip's date, and the share of it that time has left. */
interface Past {
  readonly outing: Outing;
  readonly daysBefore: number;
  readonly kept: number;
}

/** The greatest value above 0, of equal ones the first; `null`: none is. */
function greatest<T extends { readonly value: number }>(values: readonly T[]): T | null {
  let found: T | null = null;
  for (const one of values) if (one.value > (found?.value ?? 0)) found = one;
  return found;
}

const best = (past: readonly Past[], amountOf: (outing: Outing) => number | null): Shown | null =>
  greatest(
    past.flatMap(({ outing, daysBefore, kept }) => {
      const asWalked = amountOf(outing);
      return asWalked === null ? [] : [{ value: asWalked * kept, asWalked, date: outing.date, daysBefore }];
    }),
  );

const climbsOf = (past: readonly Past[]): Climb[] =>
  past.flatMap(({ outing: { date, gainM, gainHighM }, daysBefore, kept }) =>
    gainM === null || gainM <= 0
      ? []
      : [{ date, daysBefore, gainM, doubt: (gainHighM ?? gainM) / gainM - 1, kept }],
  );

const highest = (heights: readonly (number | null)[]): number | null => {
  const known = heights.filter((heightM) => heightM !== null);
  return known.length === 0 ? null : Math.max(...known);
};

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
    climbs.map((own) =>
      greatest(
        own.map(({ date, daysBefore, gainM, doubt, kept }) => {
          const credit = Math.min(Math.max(0, doubt), Math.max(0, routeDoubt));
          const asWalked = gainM * (1 + credit);
          return { value: asWalked * kept, asWalked, date, daysBefore, credit };
        }),
      ),
    ),
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
interface OwnShown extends Pick<Demonstrated, 'distanceM' | 'effortKj' | 'highestM'> {
  /** Days that still count, and how long ago the last of them was; `Infinity`: there is none. */
  readonly counted: number;
  readonly lastDaysBefore: number;
  readonly climbs: readonly Climb[];
  readonly rockClass: string | null;
  readonly hasPast: boolean;
}

function ownShown(own: readonly Outing[], ageBand: AgeBand, tripDate: string, design: Design): OwnShown {
  const past = own.flatMap((outing): Past[] => {
    const daysBefore = daysBetween(outing.date, tripDate);
    if (daysBefore < 0) return [];
    return [{ outing, daysBefore, kept: remaining(daysBefore, ageBand, design.detraining) }];
  });
  const remembered = past.filter(({ daysBefore }) => daysBefore <= design.detraining.rockClassDays);
  return {
    distanceM: best(past, ({ distanceM }) => distanceM),
    climbs: climbsOf(past),
    effortKj: best(past, ({ quantities }) =>
      quantities === null ? null : effortKj(quantities, ageBand, design),
    ),
    rockClass: walkedClass(remembered, design.detraining),
    highestM: highest(remembered.map(({ outing }) => outing.highM)),
    counted: past.filter(({ kept }) => kept > 0).length,
    lastDaysBefore: Math.min(...past.map(({ daysBefore }) => daysBefore)),
    hasPast: past.length > 0,
  };
}

/**
 * The hardest class that counts as walked: on one day lately, or on two within the years that a class is remembered. A
 * class met once and long ago does not.
 */
function walkedClass(past: readonly Past[], { rockClassOnceDays }: Design['detraining']): string | null {
  const classes = past.map(({ outing }) => outing.rockClass);
  const twice = classes.flatMap((one, i) =>
    one !== null && classes.some((other, k) => k !== i && other !== null && !isHarderClass(one, other))
      ? [one]
      : [],
  );
  const lately = past.flatMap(({ outing, daysBefore }) =>
    daysBefore <= rockClassOnceDays ? [outing.rockClass] : [],
  );
  return [...twice, ...lately].reduce(harderClass, null);
}

const greater = (...both: readonly (Shown | null)[]): Shown | null =>
  greatest(both.filter((one) => one !== null));

/** Both together; of what is equal the first counts. */
const joined = (one: OwnShown, other: OwnShown): OwnShown => ({
  distanceM: greater(one.distanceM, other.distanceM),
  climbs: [...one.climbs, ...other.climbs],
  effortKj: greater(one.effortKj, other.effortKj),
  rockClass: harderClass(one.rockClass, other.rockClass),
  highestM: highest([one.highestM, other.highestM]),
  counted: one.counted + other.counted,
  lastDaysBefore: Math.min(one.lastDaysBefore, other.lastDaysBefore),
  hasPast: one.hasPast || other.hasPast,
});

/** @param each in the order of the labels; one alone where there are none */
function byAll(
  each: readonly OwnShown[],
  labels: readonly string[] | null,
  assumedForAll: boolean,
  { oldDays }: Design['detraining'],
): Demonstrated {
  const climbs = each.map((own) => own.climbs);
  const heights = each.flatMap(({ highestM }) => (highestM === null ? [] : [highestM]));
  return {
    distanceM: least(each.map((own) => own.distanceM)),
    gainM: shownGain(climbs, 0),
    climbs,
    effortKj: least(each.map((own) => own.effortKj)),
    rockClass: least(
      each.map(({ rockClass }) =>
        rockClass === null ? null : { text: rockClass, value: rockClassValue(rockClass) },
      ),
    ),
    restsOnOneOldDay: each.some(({ counted, lastDaysBefore }) => counted === 1 && lastDaysBefore > oldDays),
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
    if (day === null) return byAll(each, labels, assumedForAll, design.detraining);
    const more = ownShown([day], goers.ageBand, tripDate, design);
    return byAll(
      each.map((before, i) => (own(day, asked[i] ?? null) ? joined(before, more) : before)),
      labels,
      assumedForAll || day.members === null,
      design.detraining,
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
