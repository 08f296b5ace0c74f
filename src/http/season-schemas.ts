/** The season board as the OpenAPI document shows it. */
import Type from 'typebox';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import { VERDICTS } from '../rank/verdict.ts';
import { LIMIT_GROUPS } from '../season/board-program.ts';
import { attribution, closed, number, numberOrNull, oneOf, orNull, ref, text } from './schema-parts.ts';

const count = Type.Integer({ minimum: 0 });
const named = closed({ id: orNull(text), name: text });
const verdict = oneOf(VERDICTS);

const party = closed({
  cohort: named,
  people: count,
  route: named,
  trailhead: orNull(text),
  verdict,
  score: number,
  vehicles: orNull(
    Type.Array(closed({ name: text, seats: count, clearance: oneOf(['any', 'high', 'fourWheel']) })),
  ),
  ownBest: closed(
    { date: text, route: text, verdict, score: number },
    'the best it could have, were it alone',
  ),
  day: orNull(ref('Day')),
  toCheck: Type.Array(text),
});

const unplaced = closed({
  cohort: named,
  people: count,
  why: oneOf(['nothingFits', 'limits', 'notFoundOut']),
  binds: Type.Array(oneOf(LIMIT_GROUPS)),
  limits: Type.Array(text),
  couldGo: orNull(closed({ date: text, route: named })),
  nearest: orNull(
    closed({
      date: text,
      route: named,
      verdict,
      criteria: Type.Array(closed({ name: oneOf(CRITERION_NAMES), reason: text })),
    }),
  ),
  ruling: Type.Array(closed({ name: oneOf(CRITERION_NAMES), routes: count })),
  text,
});

export const seasonBoardSchema = closed(
  {
    season: closed({ name: orNull(text) }),
    method: closed({ version: text, settings: text }),
    meaning: text,
    text,
    cohorts: count,
    placed: count,
    worstScore: numberOrNull,
    sumOfScores: number,
    isProven: Type.Boolean(),
    bounds: orNull(
      closed(
        { placed: count, worstScore: numberOrNull, sumOfScores: numberOrNull },
        'the most that each could still be, where the time for the search ran out',
      ),
    ),
    days: Type.Array(closed({ date: text, parties: Type.Array(party) })),
    unplaced: Type.Array(unplaced),
    notKnown: Type.Array(text),
    attribution,
  },
  'a date and a route for each cohort; most placed, then the highest worst score, then the highest sum',
);
