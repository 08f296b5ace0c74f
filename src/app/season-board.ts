/** The season board: many cohorts, many dates, what they share, and the best day for each. */
import type { Design } from '../design.ts';
import { nearestName } from '../ingest/nearest-name.ts';
import { quote } from '../ingest/quote.ts';
import { SEASON, type SeasonLimit, type SeasonTerms } from '../ingest/season-file.ts';
import { Faults } from '../ingest/shape.ts';
import { fitOf } from '../rank/fit.ts';
import { type FitRequest, readinessOf } from '../rank/readiness.ts';
import type { Route } from '../route/describe-route.ts';
import {
  isPlaceable,
  type Pairing,
  type PlacedParty,
  type SeasonBoard,
  type SeasonQuestion,
  type UnplacedCohort,
} from '../season/season.ts';
import { type SeasonProblem, seasonProblem } from '../season/season-options.ts';
import { vehiclesHandedOut } from '../season/season-vehicles.ts';
import { sameName } from '../season/trailheads.ts';
import type { UnitSystem } from '../units.ts';
import type { BoardAnswer } from './board-answer.ts';
import { checkDate } from './engine.ts';
import { comparePairings, inVehicles, seasonPairings } from './season-ranking.ts';
import type { SolveBoard } from './solve-board.ts';

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
      faults.add(pointer, `The season field ${pointer}: no route has ${what} ${quote(name)}. ${advice}`);
    }
  }
}

/** A party size that the season limits counts as if the route stated it, so that the ranking judges by it. */
function withPartyLimits(routes: SeasonQuestion['routes'], limits: readonly SeasonLimit[]) {
  return routes.map((of) => {
    const sizes = limits
      .filter(({ trailhead, who }) => {
        const name = trailhead == null ? officeOf(of) : trailheadNameOf(of);
        return name !== null && sameName(name, trailhead ?? who ?? '');
      })
      .flatMap(({ groupSizeLimit }) => groupSizeLimit ?? []);
    if (sizes.length === 0) return of;
    const { attributes } = of.route;
    const groupSizeLimit = Math.min(...sizes, attributes.groupSizeLimit ?? Number.POSITIVE_INFINITY);
    return { ...of, route: { ...of.route, attributes: { ...attributes, groupSizeLimit } } };
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

/** The board of a season, and why each cohort that has no day has none. */
export async function seasonBoard(
  question: SeasonQuestion,
  design: Design,
  units: UnitSystem,
  { solve, step = () => {} }: SeasonPorts,
): Promise<SeasonBoard> {
  const pairings = await seasonPairings(question, design, step);
  const made = seasonProblem(question, pairings, design);
  const answer = await solve(made.problem, design.season.solveS);
  return {
    question,
    assignment: answer.assignment,
    placed: placedParties(question, pairings, made, answer, design, units),
    unplaced: unplacedCohorts(question, pairings, made, answer, design, units),
  };
}

const fitForBoard = (route: Route, request: FitRequest, units: UnitSystem) =>
  fitOf(route, request, readinessOf(request), units);

const canGo = (question: SeasonQuestion, { cohort, date }: Pairing): boolean =>
  question.cohorts[cohort]?.notOn.has(question.dates[date] ?? '') !== true;

function placedParties(
  question: SeasonQuestion,
  pairings: readonly Pairing[],
  { ways, rules }: SeasonProblem,
  { assignment }: BoardAnswer,
  design: Design,
  units: UnitSystem,
): PlacedParty[] {
  const taken = assignment.chosen.flatMap((index) => ways[index] ?? []);
  const vehicles = vehiclesHandedOut(taken, rules.kinds ?? [], question.vehicles ?? []);
  return taken.flatMap(({ pairing }, index) => {
    const cohort = question.cohorts[pairing.cohort];
    const route = question.routes[pairing.route];
    const date = question.dates[pairing.date];
    if (cohort === undefined || route === undefined || date === undefined) return [];
    const own = vehicles[index] ?? null;
    const record = inVehicles(cohort, own);
    const [best = pairing] = pairings
      .filter((one) => one.cohort === pairing.cohort && isPlaceable(one) && canGo(question, one))
      .sort(comparePairings);
    return [
      {
        pairing,
        cohort,
        route,
        date,
        fit: fitForBoard(route.route, { record, date, design }, units),
        vehicles: own,
        best,
      },
    ];
  });
}

function unplacedCohorts(
  question: SeasonQuestion,
  pairings: readonly Pairing[],
  { problem, ways }: SeasonProblem,
  { bindings }: BoardAnswer,
  design: Design,
  units: UnitSystem,
): UnplacedCohort[] {
  return bindings.flatMap(({ cohort: which, groups, rules, option }) => {
    const cohort = question.cohorts[which];
    if (cohort === undefined) return [];
    const own = pairings.filter((one) => one.cohort === which);
    const fits = own.some(isPlaceable);
    const [nearest] = own.sort(comparePairings);
    const route = nearest === undefined ? undefined : question.routes[nearest.route];
    const date = nearest === undefined ? undefined : question.dates[nearest.date];
    const record = inVehicles(cohort, question.vehicles);
    return [
      {
        cohort,
        fits,
        groups,
        rules: rules.flatMap((rule) => problem.rules[rule]?.name ?? []),
        couldGo: option === null ? null : (ways[option]?.pairing ?? null),
        nearest:
          fits || route === undefined || date === undefined
            ? null
            : {
                route,
                date,
                fit: fitForBoard(route.route, { record, date, design }, units),
              },
        ruling: fits ? [] : rulingOf(own),
      },
    ];
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
