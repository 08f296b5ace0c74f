import type { Design } from '../design.ts';
import { attributionOf } from '../route/attribution.ts';
import { type PlacedParty, partyOf, type SeasonBoard, type UnplacedCohort } from '../season/season.ts';
import { MEANING_OF_FITS } from '../text/cautions.ts';
import { boardText, notKnownTexts, unplacedTexts } from '../text/season-words.ts';
import { dayView, METHOD_VERSION, places } from './shortlist-view.ts';

const finiteOrNull = (value: number | null): number | null =>
  value === null || !Number.isFinite(value) ? null : places(value, 4);

function partyView({ cohort, route, fit, vehicles, best }: PlacedParty, { question }: SeasonBoard) {
  return {
    cohort: { id: cohort.id, name: cohort.record.cohort.name },
    people: partyOf(cohort),
    route: { id: route.id, name: route.route.name },
    trailhead: route.route.attributes.trailhead?.name ?? null,
    verdict: fit.verdict,
    score: places(fit.score, 4),
    vehicles: vehicles?.map(({ name, seats, clearance }) => ({ name, seats, clearance })) ?? null,
    /** The best that the cohort could have, were it alone. */
    ownBest: {
      date: question.dates[best.date] ?? '',
      route: question.routes[best.route]?.route.name ?? '',
      verdict: best.verdict,
      score: places(best.score, 4),
    },
    day: fit.timeline === null ? null : dayView(fit.timeline),
    toCheck: fit.toCheck,
  };
}

function unplacedView(unplaced: UnplacedCohort, board: SeasonBoard) {
  const { cohort, fits, groups, rules, couldGo, nearest, ruling } = unplaced;
  const { dates, routes } = board.question;
  return {
    cohort: { id: cohort.id, name: cohort.record.cohort.name },
    people: partyOf(cohort),
    why: !fits ? 'nothingFits' : groups.length > 0 ? 'limits' : 'notFoundOut',
    binds: groups,
    limits: rules,
    couldGo:
      couldGo === null
        ? null
        : {
            date: dates[couldGo.date] ?? '',
            route: { id: routes[couldGo.route]?.id ?? null, name: routes[couldGo.route]?.route.name ?? '' },
          },
    nearest:
      nearest === null
        ? null
        : {
            date: nearest.date,
            route: { id: nearest.route.id, name: nearest.route.route.name },
            verdict: nearest.fit.verdict,
            criteria: nearest.fit.judgements
              .filter(({ verdict }) => verdict === nearest.fit.verdict)
              .map(({ name, reason }) => ({ name, reason })),
          },
    ruling,
    text: unplacedTexts(unplaced, board).join(' '),
  } as const;
}

export type SeasonView = ReturnType<typeof seasonView>;

/** Words that the tiles under its routes and under the cohorts' recorded days ask for. */
export const boardAttribution = ({ question: { routes, cohorts } }: SeasonBoard): string[] =>
  attributionOf([...routes.map(({ route }) => route), ...cohorts.flatMap(({ record }) => record.outings)]);

/** The board as programs read it. */
export function seasonView(board: SeasonBoard, design: Design) {
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
    /** The most that each could still be; `null` where it is not known, or the whole where the board is proven. */
    bounds: isProven
      ? null
      : {
          placed: bounds.placed,
          worstScore: finiteOrNull(bounds.worst),
          sumOfScores: finiteOrNull(bounds.sum),
        },
    days: question.dates.map((date) => ({
      date,
      parties: placed.filter((party) => party.date === date).map((party) => partyView(party, board)),
    })),
    unplaced: unplaced.map((one) => unplacedView(one, board)),
    notKnown: notKnownTexts(board),
    attribution: boardAttribution(board),
  };
}
