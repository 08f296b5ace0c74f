/** The season board: many cohorts, many dates, what they share, and the best day for each. */

import { setImmediate as nextTurn } from 'node:timers/promises';
import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { EngineError } from '../errors.ts';
import { nearestName } from '../ingest/nearest-name.ts';
import { quote } from '../ingest/quote.ts';
import { SEASON, type SeasonLimit, type SeasonRequest, type SeasonTerms } from '../ingest/season-file.ts';
import { Faults } from '../ingest/shape.ts';
import { message } from '../message.ts';
import { CRITERION_NAMES } from '../rank/criteria/index.ts';
import { factsOf } from '../rank/facts.ts';
import { fitOf } from '../rank/fit.ts';
import { tableOf } from '../rank/rank-table.ts';
import { rankFacts } from '../rank/ranking.ts';
import type { CohortRecord } from '../rank/readiness.ts';
import { rowOf } from '../rank/route-row.ts';
import { VERDICTS, verdictRank } from '../rank/verdict.ts';
import {
  isPlaceable,
  type Pairing,
  type PlacedParty,
  type PoolVehicle,
  type SeasonBoard,
  type SeasonCohort,
  type SeasonQuestion,
  type UnplacedCohort,
} from '../season/season.ts';
import { inScores, type SeasonProblem, seasonProblem, vehiclesHandedOut } from '../season/season-options.ts';
import { sameName } from '../season/trailheads.ts';
import type { Context } from './context.ts';
import { getCohort, noteTrip, recordOf } from './groups.ts';
import { checkDate } from './question.ts';
import { getRoute } from './routes.ts';
import { type BoardAnswer, type SolveBoard, solveBoard } from './solve-board.ts';

export interface SeasonPorts {
  readonly solve: SolveBoard;
  /** Told after each cohort and date that was ranked. */
  readonly step?: (what: string) => void;
}

type Known = Pick<SeasonQuestion, 'routes' | 'cohorts'>;

const trailheadNameOf = ({ route }: SeasonQuestion['routes'][number]): string | null =>
  route.attributes.trailhead?.name ?? null;
const officeOf = ({ route }: SeasonQuestion['routes'][number]): string | null =>
  route.attributes.permit?.who ?? null;

/** What the routes of a season state that its limits may name; `null`: a route states none. */
export interface SeasonPlaces {
  readonly trailheads: readonly (string | null)[];
  readonly offices: readonly (string | null)[];
}

/** The limits of a season name places and offices that routes have. */
export function placeRules(
  { limits }: Pick<SeasonTerms, 'limits'>,
  { trailheads, offices }: SeasonPlaces,
  faults: Faults,
): void {
  for (const [limit, at] of faults.items('/limits', limits)) {
    for (const [field, names] of [
      ['trailhead', trailheads],
      ['who', offices],
    ] as const) {
      const pointer = `${at}/${field}`;
      const name = faults.sound(pointer, limit[field]);
      if (name == null || names.some((one) => one !== null && sameName(one, name))) continue;
      const known = [...new Set(names.filter((one) => one !== null))].sort();
      const near = nearestName(name, known);
      const advice =
        near !== null
          ? `Did you mean ${quote(near)}?`
          : known.length === 0
            ? 'No route states one.'
            : `The routes have: ${known.slice(0, 20).join(', ')}.`;
      const what = field === 'who' ? 'a permit from' : 'the trailhead';
      faults.addUnder(pointer, message`no route has ${what} ${quote(name)}. ${advice}`);
    }
  }
}

/** A party size that the season limits counts as if the route stated it, so that the ranking judges by it. */
function withPartyLimits(routes: SeasonQuestion['routes'], limits: readonly SeasonLimit[]) {
  return routes.map((known) => {
    const sizes = limits
      .filter(({ trailhead, who }) => {
        const name = trailhead == null ? officeOf(known) : trailheadNameOf(known);
        return name !== null && sameName(name, trailhead ?? who ?? '');
      })
      .flatMap(({ groupSizeLimit }) => groupSizeLimit ?? []);
    if (sizes.length === 0) return known;
    const { attributes } = known.route;
    const groupSizeLimit = Math.min(...sizes, attributes.groupSizeLimit ?? Number.POSITIVE_INFINITY);
    return { ...known, route: { ...known.route, attributes: { ...attributes, groupSizeLimit } } };
  });
}

/**
 * What the board is asked, from a season’s terms and what it names. Lists are put in order, so that the answer does not
 * depend on the order given.
 *
 * @throws EngineError `bad-season`, `bad-date`.
 */
export function seasonQuestion(terms: SeasonTerms, { routes, cohorts }: Known): SeasonQuestion {
  const limits = terms.limits ?? [];
  const faults = new Faults(SEASON);
  placeRules(terms, { trailheads: routes.map(trailheadNameOf), offices: routes.map(officeOf) }, faults);
  faults.throwAny();
  const vehicles = terms.vehicles ?? null;
  return {
    name: terms.name ?? null,
    dates: terms.dates.map(checkDate).sort(),
    cohorts: cohorts.toSorted((a, b) => (a.record.cohort.name < b.record.cohort.name ? -1 : 1)),
    routes: withPartyLimits(routes, limits).sort((a, b) => (a.route.name < b.route.name ? -1 : 1)),
    vehicles:
      vehicles?.map(({ name, seats, clearance }, index) => ({
        name: name ?? `vehicle ${index + 1}`,
        seats,
        clearance,
      })) ?? null,
    limits: limits.map(({ trailhead, who, partiesPerDay, parkingSpaces }) => ({
      trailhead: trailhead ?? null,
      who: who ?? null,
      partiesPerDay: partiesPerDay ?? null,
      parkingSpaces: parkingSpaces ?? null,
    })),
  };
}

/** A cohort as a season states it. `id` `null`: it is not stored. */
export function seasonCohort(
  record: CohortRecord,
  id: string | null,
  { notOn, ledBy, ownVehicles }: Omit<SeasonRequest['cohorts'][number], 'id'>,
): SeasonCohort {
  return {
    record,
    id,
    notOn: new Set(notOn ?? []),
    ledBy: ledBy ?? [],
    hasOwnVehicles: ownVehicles === true,
  };
}

/** The board of a season, and why each cohort that has no day has none. */
export async function seasonBoard(
  question: SeasonQuestion,
  design: Design,
  { solve, step = () => {} }: SeasonPorts,
): Promise<SeasonBoard> {
  const asked = { question, design };
  const pairings = await seasonPairings(question, design, step);
  const made = seasonProblem(question, pairings, design);
  const answer = await solve(made.problem, design.season.solveS);
  return {
    question,
    assignment: inScores(answer.assignment, made.ways),
    placed: placedParties(asked, pairings, made, answer),
    unplaced: unplacedCohorts(asked, pairings, made, answer),
  };
}

const canGo = ({ cohorts, dates }: SeasonQuestion, { cohort, date }: Pairing): boolean =>
  !at(cohorts, cohort).notOn.has(at(dates, date));

interface BoardAsked {
  readonly question: SeasonQuestion;
  readonly design: Design;
}

/** The day of a pairing for its cohort in these vehicles of the program, or in its own. */
function dayOf(
  { question, design }: BoardAsked,
  pairing: Pairing,
  vehicles: readonly PoolVehicle[] | null,
): Pick<PlacedParty, 'route' | 'date' | 'fit'> {
  const route = at(question.routes, pairing.route);
  const date = at(question.dates, pairing.date);
  const record = inVehicles(at(question.cohorts, pairing.cohort), vehicles);
  return { route, date, fit: fitOf(route.route, { record, date, design }) };
}

function placedParties(
  asked: BoardAsked,
  pairings: readonly Pairing[],
  { ways, rules }: SeasonProblem,
  { assignment }: BoardAnswer,
): PlacedParty[] {
  const { question } = asked;
  const taken = assignment.chosen.map((index) => at(ways, index));
  const handedOut = vehiclesHandedOut(taken, rules.kinds ?? [], question.vehicles ?? []);
  return taken.map(({ pairing }, index) => {
    const vehicles = handedOut[index] ?? null;
    const [best = pairing] = pairings
      .filter((one) => one.cohort === pairing.cohort && isPlaceable(one) && canGo(question, one))
      .sort(comparePairings);
    const cohort = at(question.cohorts, pairing.cohort);
    return { pairing, cohort, ...dayOf(asked, pairing, vehicles), vehicles, best };
  });
}

function unplacedCohorts(
  asked: BoardAsked,
  pairings: readonly Pairing[],
  { problem, ways }: SeasonProblem,
  { bindings }: BoardAnswer,
): UnplacedCohort[] {
  const { cohorts, vehicles } = asked.question;
  return bindings.map(({ cohort, groups, rules, option }) => {
    const own = pairings.filter((one) => one.cohort === cohort).sort(comparePairings);
    const fits = own.some(isPlaceable);
    const [nearest] = own;
    return {
      cohort: at(cohorts, cohort),
      fits,
      groups,
      rules: rules.map((rule) => at(problem.rules, rule)),
      couldGo: option === null ? null : at(ways, option).pairing,
      nearest: fits || nearest === undefined ? null : dayOf(asked, nearest, vehicles),
      ruling: fits ? [] : rulingOf(own),
    };
  });
}

/** The criteria that keep routes from fitting, each with the number of routes that it keeps on their best day. */
function rulingOf(sorted: readonly Pairing[]): UnplacedCohort['ruling'] {
  const best = new Map<number, Pairing>();
  for (const pairing of sorted) if (!best.has(pairing.route)) best.set(pairing.route, pairing);
  const counts = new Map<Pairing['ruling'][number], number>();
  for (const { ruling } of best.values())
    for (const name of ruling) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts]
    .map(([name, routes]) => ({ name, routes }))
    .sort((a, b) => b.routes - a.routes || (a.name < b.name ? -1 : 1));
}

/** The cohort as the board ranks for it: in these vehicles of the program, or in its own. */
function inVehicles(
  { record, hasOwnVehicles }: SeasonCohort,
  pool: readonly PoolVehicle[] | null,
): CohortRecord {
  if (pool === null || hasOwnVehicles) return record;
  const vehicles = pool.map(({ seats, clearance }) => ({ seats, clearance }));
  return { ...record, cohort: { ...record.cohort, vehicles } };
}

/** @throws EngineError `bad-season` where there is more to judge than one board takes. */
function checkSize({ cohorts, dates, routes }: SeasonQuestion, most: number): void {
  const found = cohorts.length * dates.length * routes.length;
  if (found <= most) return;
  throw new EngineError(
    'bad-season',
    message`The season asks for ${found} judgements (${cohorts.length} cohorts × ${dates.length} dates × ${routes.length} routes); at most ${most} are made. Name fewer routes or dates, or divide the season.`,
    { limit: most, found },
  );
}

/**
 * Judges every route for every cohort on every date, by the ranking’s own criteria. What else runs in the process gets its
 * turn in between.
 *
 * @param step is told after each cohort and date
 */
async function seasonPairings(
  question: SeasonQuestion,
  design: Design,
  step: (what: string) => void,
): Promise<Pairing[]> {
  checkSize(question, design.season.mostJudgements);
  const table = tableOf(question.routes.map(({ route }) => rowOf(route, design)));
  const pairings: Pairing[] = [];
  for (const [cohort, terms] of question.cohorts.entries()) {
    const record = inVehicles(terms, question.vehicles);
    for (const [date, day] of question.dates.entries()) {
      await nextTurn();
      const request = { record, date: day, design };
      const { verdicts, scores, ranks } = rankFacts(factsOf(table, request));
      verdicts.forEach((rank, route) => {
        const ruling = CRITERION_NAMES.filter((_, c) => ranks[c * table.size + route] === rank);
        pairings.push({
          cohort,
          date,
          route,
          verdict: at(VERDICTS, rank),
          score: at(scores, route),
          ruling,
        });
      });
      step(`${record.cohort.name} ${day}`);
    }
  }
  return pairings;
}

/** From best to worst as the shortlist has it: verdict, then score; what is equal keeps the order of dates and routes. */
const comparePairings = (a: Pairing, b: Pairing): number =>
  verdictRank(a.verdict) - verdictRank(b.verdict) ||
  b.score - a.score ||
  a.date - b.date ||
  a.route - b.route;

/** The board of a season of stored cohorts; without `routes` every stored one is looked at. Nothing is stored. */
export async function storedSeasonBoard(context: Context, asked: SeasonRequest): Promise<SeasonBoard> {
  const { store, ground, inTurn } = context;
  const cohorts: SeasonCohort[] = [];
  for (const { id, ...terms } of asked.cohorts)
    cohorts.push(seasonCohort(await recordOf(context, await getCohort(context, id)), id, terms));
  const routes =
    asked.routes == null
      ? await store.routes.all()
      : await Promise.all(asked.routes.map((id) => getRoute(context, id)));
  const question = seasonQuestion(asked, {
    routes: routes.map(({ route, id }) => ({ route, id })),
    cohorts,
  });
  const last = question.dates.at(-1);
  for (const { id } of asked.cohorts)
    if (last !== undefined) await noteTrip(context, await getCohort(context, id), last);
  return inTurn(() => seasonBoard(question, ground.design, { solve: solveBoard }));
}
