import Type from 'typebox';
import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { attributionOf } from '../route/attribution.ts';
import * as t from '../schema.ts';
import { LIMIT_GROUPS } from '../season/board-program.ts';
import {
  type PlacedParty,
  partyOf,
  type SeasonBoard,
  type SeasonCohort,
  type SeasonQuestion,
  type UnplacedCohort,
} from '../season/season.ts';
import { MEANING_OF_FITS } from '../text/cautions.ts';
import { reasonText } from '../text/criteria/index.ts';
import { questionsOf } from '../text/fit-words.ts';
import { boardText, notKnownTexts, ruleText, unplacedTexts } from '../text/season-words.ts';
import type { UnitSystem } from '../units.ts';
import { daySchema, dayView } from './day-view.ts';
import { places } from './rounded.ts';
import { criterionName, METHOD_VERSION, method, verdict } from './shortlist-view.ts';

const count = Type.Integer({ minimum: 0 });
const kept = t.closed({ id: t.textOrNull, name: t.text });

const partySchema = t.closed({
  cohort: kept,
  people: count,
  route: kept,
  trailhead: t.textOrNull,
  verdict,
  score: t.number,
  vehicles: t.orNull(
    t.list(t.closed({ name: t.text, seats: count, clearance: t.oneOf(['any', 'high', 'fourWheel']) })),
  ),
  ownBest: t.closed(
    { date: t.text, route: t.text, verdict, score: t.number },
    'the best it could have, were it alone',
  ),
  day: t.orNull(t.named('Day', daySchema)),
  toCheck: t.list(t.text),
});

const unplacedSchema = t.closed({
  cohort: kept,
  people: count,
  why: t.oneOf(['nothingFits', 'limits', 'notFoundOut']),
  binds: t.list(t.oneOf(LIMIT_GROUPS)),
  limits: t.list(t.text),
  couldGo: t.orNull(t.closed({ date: t.text, route: kept })),
  nearest: t.orNull(
    t.closed({
      date: t.text,
      route: kept,
      verdict,
      criteria: t.list(t.closed({ name: criterionName, reason: t.text })),
    }),
  ),
  ruling: t.list(t.closed({ name: criterionName, routes: count })),
  text: t.text,
});

export const seasonSchema = t.closed(
  {
    season: t.closed({ name: t.textOrNull }),
    method: method,
    meaning: t.text,
    text: t.text,
    cohorts: count,
    placed: count,
    worstScore: t.numberOrNull,
    sumOfScores: t.number,
    isProven: t.boolean,
    bounds: t.orNull(
      t.closed(
        { placed: count, worstScore: t.numberOrNull, sumOfScores: t.numberOrNull },
        'the most that each could still be, where the time for the search ran out',
      ),
    ),
    days: t.list(t.closed({ date: t.text, parties: t.list(partySchema) })),
    unplaced: t.list(unplacedSchema),
    notKnown: t.list(t.text),
    attribution: t.attribution,
  },
  'a date and a route for each cohort; most placed, then the highest worst score, then the highest sum',
);

export type SeasonView = t.Shaped<typeof seasonSchema>;
type PartyView = t.Shaped<typeof partySchema>;
type UnplacedView = t.Shaped<typeof unplacedSchema>;

const finiteOrNull = (value: number | null): number | null =>
  value === null || !Number.isFinite(value) ? null : places(value, 4);

const cohortView = ({ id, record }: SeasonCohort) => ({ id, name: record.cohort.name });
const routeView = ({ id, route }: SeasonQuestion['routes'][number]) => ({ id, name: route.name });

function partyView(
  { cohort, route, fit, vehicles, best }: PlacedParty,
  { question }: SeasonBoard,
  units: UnitSystem,
): PartyView {
  return {
    cohort: cohortView(cohort),
    people: partyOf(cohort),
    route: routeView(route),
    trailhead: route.route.attributes.trailhead?.name ?? null,
    verdict: fit.verdict,
    score: places(fit.score, 4),
    vehicles: vehicles?.map(({ name, seats, clearance }) => ({ name, seats, clearance })) ?? null,
    ownBest: {
      date: at(question.dates, best.date),
      route: at(question.routes, best.route).route.name,
      verdict: best.verdict,
      score: places(best.score, 4),
    },
    day: fit.timeline === null ? null : dayView(fit.timeline),
    toCheck: questionsOf(fit, units),
  };
}

function unplacedView(unplaced: UnplacedCohort, board: SeasonBoard, units: UnitSystem): UnplacedView {
  const { cohort, fits, groups, rules, couldGo, nearest, ruling } = unplaced;
  const { dates, routes } = board.question;
  return {
    cohort: cohortView(cohort),
    people: partyOf(cohort),
    why: !fits ? 'nothingFits' : groups.length > 0 ? 'limits' : 'notFoundOut',
    binds: groups,
    limits: rules.map(ruleText),
    couldGo: couldGo && {
      date: at(dates, couldGo.date),
      route: routeView(at(routes, couldGo.route)),
    },
    nearest: nearest && {
      date: nearest.date,
      route: routeView(nearest.route),
      verdict: nearest.fit.verdict,
      criteria: nearest.fit.judgements
        .filter(({ verdict }) => verdict === nearest.fit.verdict)
        .map((judgement) => ({ name: judgement.name, reason: reasonText(judgement, units) })),
    },
    ruling,
    text: unplacedTexts(unplaced, board, units).join(' '),
  };
}

/** Words that the tiles under its routes and under the cohorts' recorded days ask for. */
export const boardAttribution = ({ question: { routes, cohorts } }: SeasonBoard): string[] =>
  attributionOf([...routes.map(({ route }) => route), ...cohorts.flatMap(({ record }) => record.outings)]);

/** The board as programs read it. */
export function seasonView(board: SeasonBoard, design: Design, units: UnitSystem): SeasonView {
  const { question, assignment, placed, unplaced } = board;
  const { bounds, isProven } = assignment;
  return {
    season: { name: question.name },
    method: { version: METHOD_VERSION, settings: design.version },
    meaning: MEANING_OF_FITS,
    text: boardText(board),
    cohorts: question.cohorts.length,
    placed: assignment.placed,
    worstScore: finiteOrNull(assignment.worst),
    sumOfScores: places(assignment.sum, 4),
    isProven,
    bounds: isProven
      ? null
      : {
          placed: bounds.placed,
          worstScore: finiteOrNull(bounds.worst),
          sumOfScores: finiteOrNull(bounds.sum),
        },
    days: question.dates.map((date) => ({
      date,
      parties: placed.filter((party) => party.date === date).map((party) => partyView(party, board, units)),
    })),
    unplaced: unplaced.map((one) => unplacedView(one, board, units)),
    notKnown: notKnownTexts(board),
    attribution: boardAttribution(board),
  };
}
