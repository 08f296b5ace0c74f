import { type Clearance, VEHICLES_ONE_WAY } from '../approach/vehicles.ts';
import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { needsSecondVehicle } from '../rank/road.ts';
import type { Assignment } from './assign-board.ts';
import type { BoardOption, BoardProblem, Use } from './board-program.ts';
import {
  isPlaceable,
  type Pairing,
  type PoolVehicle,
  partyOf,
  type SeasonCohort,
  type SeasonQuestion,
} from './season.ts';
import { type SeasonRules, seasonRules } from './season-rules.ts';
import { kindsOf, type Pack, packsFor, type VehicleKind } from './vehicle-packs.ts';

export interface Way {
  readonly pairing: Pairing;
  /** Vehicles of the program, kind by kind; `null`: the cohort’s own. */
  readonly pack: Pack | null;
}

export interface SeasonProblem {
  readonly problem: BoardProblem;
  /** One for each option of the problem. */
  readonly ways: readonly Way[];
  readonly rules: SeasonRules;
}

/** How a cohort can ride to a road of some need: vehicles of the program, or so many of its own. */
interface Ride {
  readonly pack: Pack | null;
  readonly parked: number;
}

function tooManyPacks(cohort: SeasonCohort, most: number): EngineError {
  return new EngineError(
    'bad-season',
    message`There are more than ${most} ways to seat ${cohort.record.cohort.name} in the season’s vehicles. Write alike vehicles with the same seats and clearance, or divide the season.`,
    { pointer: '/vehicles', limit: most },
  );
}

/** @param least vehicles that the way takes, whatever they seat */
function ridesOf(
  cohort: SeasonCohort,
  need: Clearance,
  least: number,
  rules: SeasonRules,
  most: number,
): Ride[] {
  const party = partyOf(cohort);
  const isPool = rules.kinds !== null && !cohort.hasOwnVehicles;
  const own = cohort.record.cohort.vehicles ?? [];
  // Nothing is known of its vehicles: one at least stands at the trailhead.
  if (!isPool && own.length === 0) return [{ pack: null, parked: 1 }];
  const packs = packsFor(party, need, least, isPool ? (rules.kinds ?? []) : kindsOf(own), most);
  if (packs === null) throw tooManyPacks(cohort, most);
  const rides = packs.map((pack) => ({ pack, parked: pack.reduce((sum, count) => sum + count, 0) }));
  if (isPool || rides.length === 0) return isPool ? rides : [];
  return [{ pack: null, parked: Math.min(...rides.map(({ parked }) => parked)) }];
}

/** What an option is worth to the board: every fit before every stretch, then by score (both 0 to 1). */
export const worthOf = ({ verdict, score }: Pick<Pairing, 'verdict' | 'score'>): number =>
  verdict === 'fits' ? 1 + score : score;

/** The board in scores again: its worst is the least score of the worst verdict. Until it is proven a sum may be as many as can be placed. */
export function inScores(assignment: Assignment, ways: readonly Way[]): Assignment {
  const { chosen, worst, bounds, isProven } = assignment;
  const scoreOf = (worth: number | null) => (worth !== null && worth > 1 ? worth - 1 : worth);
  const sum = chosen.reduce((all, index) => all + at(ways, index).pairing.score, 0);
  return {
    ...assignment,
    worst: scoreOf(worst),
    sum,
    bounds: { ...bounds, worst: scoreOf(bounds.worst), sum: isProven ? sum : bounds.placed },
  };
}

/**
 * The season as a program: every way of placing a cohort on a date, with what it takes of each limit. Of the routes that
 * take the same on a date only the best for the cohort is a way.
 *
 * @throws EngineError `bad-season` where the vehicles can be put together in too many ways.
 */
export function seasonProblem(
  question: SeasonQuestion,
  pairings: readonly Pairing[],
  design: Design,
): SeasonProblem {
  const rules = seasonRules(question, design);
  const needOf = (route: number): Clearance =>
    at(question.routes, route).route.attributes.trailhead?.roadClearance ?? 'any';
  const leastOf = (route: number): number =>
    needsSecondVehicle(at(question.routes, route).route) ? VEHICLES_ONE_WAY : 1;
  const best = new Map<string, Pairing>();
  for (const pairing of pairings.filter(isPlaceable)) {
    const { cohort, date, route } = pairing;
    const takes = [needOf(route), leastOf(route), rules.parkingRule(route), ...rules.partyRules(route)];
    const key = `${cohort}|${date}|${takes.join(' ')}`;
    const before = best.get(key);
    if (before === undefined || worthOf(pairing) > worthOf(before)) best.set(key, pairing);
  }
  const rides = new Map<string, Ride[]>();
  const options: BoardOption[] = [];
  const ways: Way[] = [];
  for (const pairing of best.values()) {
    const cohort = at(question.cohorts, pairing.cohort);
    const need = needOf(pairing.route);
    const least = leastOf(pairing.route);
    const key = `${pairing.cohort} ${need} ${least}`;
    const known = rides.get(key) ?? ridesOf(cohort, need, least, rules, design.season.mostPacks);
    rides.set(key, known);
    for (const ride of known) {
      const uses = usesOf(question, rules, cohort, pairing, ride);
      options.push({ cohort: pairing.cohort, score: worthOf(pairing), uses });
      ways.push({ pairing, pack: ride.pack });
    }
  }
  const { limits } = rules;
  return { problem: { cohorts: question.cohorts.length, rules: rules.rules, limits, options }, ways, rules };
}

function usesOf(
  { dates }: SeasonQuestion,
  rules: SeasonRules,
  cohort: SeasonCohort,
  { cohort: which, date, route }: Pairing,
  { pack, parked }: Ride,
): Use[] {
  const parking = rules.parkingRule(route);
  return [
    ...(pack ?? []).flatMap((count, kind) =>
      count === 0 ? [] : [rules.use(at(rules.kindRules, kind), date, count)],
    ),
    ...rules.partyRules(route).map((rule) => rules.use(rule, date, 1)),
    ...(parking === null ? [] : [rules.use(parking, date, parked)]),
    ...cohort.ledBy.map((label) => rules.use(rules.leaderRule(label), date, 1)),
    ...(cohort.notOn.has(at(dates, date)) ? [rules.use(rules.awayRule(which), date, 1)] : []),
  ];
}

/**
 * Which vehicles each party gets: of a kind the first that nobody has that day. In the order of the ways; `null`: the
 * party comes in its own.
 */
export function vehiclesHandedOut(
  ways: readonly Way[],
  kinds: readonly VehicleKind[],
  vehicles: readonly PoolVehicle[],
): (readonly PoolVehicle[] | null)[] {
  const given = new Map<string, number>();
  return ways.map(({ pairing, pack }) => {
    if (pack === null) return null;
    return pack.flatMap((count, kind) => {
      const key = `${pairing.date} ${kind}`;
      const from = given.get(key) ?? 0;
      given.set(key, from + count);
      const which = kinds[kind]?.which.slice(from, from + count) ?? [];
      return which.flatMap((index) => vehicles[index] ?? []);
    });
  });
}
