/** Simulated groups whose real pace is known: what the pace model is checked against. */
import type { Outing, TimedPart } from '../../src/capability/outing.ts';
import type { PaceModel } from '../../src/capability/pace-model.ts';
import { NO_WALK, plus, type Quantities } from '../../src/capability/quantities.ts';
import type { HikingRule, Leg } from '../../src/capability/rules/leg.ts';
import { swiss } from '../../src/capability/rules/swiss.ts';
import { tobler } from '../../src/capability/rules/tobler.ts';
import { din33466, tradeRule } from '../../src/capability/rules/trade-rule.ts';
import type { Random } from '../demo-range/random.ts';

/** A day there and back: whole legs up, then whole legs down. */
export interface Day {
  readonly up: readonly Leg[];
  readonly down: readonly Leg[];
}

/** Minutes of one leg as a world's group really walks it, errors of the day and the leg aside. */
type Truth = (leg: Leg) => number;

export interface World {
  readonly name: string;
  /** Draws a group of this world. */
  readonly group: (random: Random, prior: PaceModel['prior']) => Truth;
}

/** Shared error of a day and error of a leg, relative (the harness's own, as asked of it). */
const DAY_ERROR = 0.1;
const LEG_ERROR = 0.05;

/** Box and Muller 1958: an exact normal, where tails matter. */
export function gaussian(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random.uniform())) * Math.cos(2 * Math.PI * random.uniform());
}

const between = (random: Random, low: number, high: number): number => low + (high - low) * random.uniform();

const shares = (raw: readonly number[]): number[] => {
  const sum = raw.reduce((total, share) => total + share, 0);
  return raw.map((share) => share / sum);
};

/** From a small day to a large one: kilometres there and back, metres climbed. */
interface Span {
  readonly km: readonly [number, number];
  readonly climbM: readonly [number, number];
}

/** How simulated days are drawn. */
export interface DayKind {
  readonly name: string;
  readonly draw: (random: Random, span: Span) => Day;
}

function dayOf(legs: readonly { readonly lengthM: number; readonly climbM: number }[]): Day {
  return {
    up: legs.map(({ lengthM, climbM }) => ({ horizontalM: lengthM, climbM, dropM: 0 })),
    down: [...legs]
      .reverse()
      .map(({ lengthM, climbM }) => ({ horizontalM: lengthM, climbM: 0, dropM: climbM })),
  };
}

/** How far climb may run ahead of, or behind, length on an even day, as a share of the span (the harness's own). */
const LOOSE = 0.4;

/** Days whose climb grows with their length, one leg up and one down: what a group trains on. */
export const EVEN_DAYS: DayKind = {
  name: 'even days',
  draw: (random, { km, climbM }) => {
    const large = random.uniform();
    const high = Math.min(1, Math.max(0, large + LOOSE * (random.uniform() - 0.5)));
    const at = ([low, top]: readonly [number, number], share: number) => low + (top - low) * share;
    return dayOf([{ lengthM: at(km, large) * 500, climbM: at(climbM, high) }]);
  },
};

/**
 * Days of any length with any climb, in 1 to 5 legs each way. Legs differ in length by up to four times and in slope
 * by up to 1.4/0.6 (the harness's own: paths seldom keep over 35 % for a whole leg).
 */
export const UNEVEN_DAYS: DayKind = {
  name: 'uneven days',
  draw: (random, { km, climbM }) => {
    const lengthM = between(random, ...km) * 500;
    const gainM = between(random, ...climbM);
    const count = 1 + Math.floor(5 * random.uniform());
    const long = shares(Array.from({ length: count }, () => between(random, 0.3, 1.3)));
    const high = shares(long.map((share) => share * between(random, 0.6, 1.4)));
    return dayOf(long.map((share, i) => ({ lengthM: share * lengthM, climbM: (high[i] ?? 0) * gainM })));
  },
};

const add = (legs: readonly Leg[], of: (leg: Leg) => number): number =>
  legs.reduce((sum, leg) => sum + of(leg), 0);

export function quantitiesOf({ up, down }: Day): Quantities {
  return {
    upKm: add(up, (leg) => leg.horizontalM) / 1000,
    upM: add(up, (leg) => leg.climbM),
    downKm: add(down, (leg) => leg.horizontalM) / 1000,
    downM: add(down, (leg) => leg.dropM),
  };
}

/** The day walked: one error for the whole day, one for each leg. */
export function walkedParts(day: Day, truth: Truth, random: Random): readonly TimedPart[] {
  const whole = 1 + DAY_ERROR * gaussian(random);
  const minutes = (legs: readonly Leg[]) =>
    add(legs, (leg) => truth(leg) * whole * (1 + LEG_ERROR * gaussian(random)));
  const all = quantitiesOf(day);
  return [
    { quantities: { ...NO_WALK, upKm: all.upKm, upM: all.upM }, movingMin: minutes(day.up) },
    { quantities: { ...NO_WALK, downKm: all.downKm, downM: all.downM }, movingMin: minutes(day.down) },
  ];
}

export function outingOf(parts: readonly TimedPart[]): Outing {
  return {
    date: '2026-06-01',
    source: 'track',
    distanceM: 0,
    gainM: 0,
    gainHighM: 0,
    highM: null,
    rockClass: null,
    members: null,
    quantities: parts.map((part) => part.quantities).reduce(plus, NO_WALK),
    parts,
    movingMin: null,
    standingMin: null,
    climbElevationM: null,
    clockFromMs: null,
    clockToMs: null,
    notes: [],
  };
}

/** Rates of the four quantities to a truth. */
function byRates([upKm = 0, upM = 0, downKm = 0, downM = 0]: readonly number[]): Truth {
  return (leg) =>
    leg.dropM > 0
      ? (leg.horizontalM / 1000) * downKm + leg.dropM * downM
      : (leg.horizontalM / 1000) * upKm + leg.climbM * upM;
}

/** Rates `scale` standard deviations off: drawn from the prior for `null`, else along its shared and own spreads. */
function ratesFrom(
  prior: PaceModel['prior'],
  spread: { readonly shared: number; readonly own: number },
  deviate: (name: string) => number,
): number[] {
  return prior.mean.map((mean, i) => {
    const way = i < 2 ? 'up' : 'down';
    const relative = 1 + spread.shared * deviate(way) + spread.own * deviate(`own${i}`);
    return mean * Math.max(0.1, relative);
  });
}

/** The simulated kinds of group. `spread` is the prior's own. */
export function worlds(spread: { readonly shared: number; readonly own: number }): readonly World[] {
  const byRule = (name: string, rule: HikingRule): World => ({ name, group: () => (leg) => rule([leg]) });
  const scaled = (name: string, factor: number): World => ({
    name,
    group: () => (leg) => factor * tradeRule([leg]),
  });
  return [
    {
      name: 'rates drawn from the prior',
      group: (random, prior) => {
        const drawn = new Map<string, number>();
        const deviate = (key: string) => {
          const known = drawn.get(key);
          if (known !== undefined) return known;
          const value = gaussian(random);
          drawn.set(key, value);
          return value;
        };
        return byRates(ratesFrom(prior, spread, deviate));
      },
    },
    {
      name: '1.5 sd slower than the prior',
      group: (_, prior) => byRates(ratesFrom(prior, spread, (key) => (key.startsWith('own') ? 0 : 1.5))),
    },
    {
      name: '1.5 sd faster than the prior',
      group: (_, prior) => byRates(ratesFrom(prior, spread, (key) => (key.startsWith('own') ? 0 : -1.5))),
    },
    scaled('half the trade rule’s speed', 2),
    scaled('double the trade rule’s speed', 0.5),
    byRule('walks by DIN 33466', din33466),
    byRule('walks by Tobler', tobler),
    byRule('walks by the Swiss rule', swiss),
  ];
}
