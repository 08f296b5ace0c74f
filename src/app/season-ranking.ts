import { setImmediate as breathe } from 'node:timers/promises';
import type { Design } from '../design.ts';
import { EngineError } from '../errors.ts';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import { rankTable } from '../rank/rank-by-table.ts';
import { tableOf } from '../rank/rank-table.ts';
import { type CohortRecord, readinessOf } from '../rank/readiness.ts';
import { rowOf } from '../rank/route-row.ts';
import { VERDICTS, verdictRank } from '../rank/verdict.ts';
import type { Pairing, PoolVehicle, SeasonCohort, SeasonQuestion } from '../season/season.ts';

/** The cohort as the board ranks for it: in these vehicles of the program, or in its own. */
export function inVehicles(
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
    `The season asks for ${found} judgements (${cohorts.length} cohorts × ${dates.length} dates × ${routes.length} routes); at most ${most} are made. Name fewer routes or dates, or divide the season.`,
    { limit: most, found },
  );
}

/**
 * Judges every route for every cohort on every date, by the ranking’s own criteria. What else runs in the process gets its
 * turn in between.
 *
 * @param step is told after each cohort and date
 */
export async function seasonPairings(
  question: SeasonQuestion,
  design: Design,
  step: (what: string) => void,
): Promise<Pairing[]> {
  checkSize(question, design.season.mostJudgements);
  const table = tableOf(question.routes.map(({ route }) => rowOf(route, design)));
  const pairings: Pairing[] = [];
  for (const [cohort, of] of question.cohorts.entries()) {
    const record = inVehicles(of, question.vehicles);
    for (const [date, day] of question.dates.entries()) {
      await breathe();
      const request = { record, date: day, design };
      const { verdicts, scores, ranks } = rankTable(table, request, readinessOf(request));
      verdicts.forEach((rank, route) => {
        const ruling = CRITERION_NAMES.filter((_, c) => ranks[c * table.size + route] === rank);
        pairings.push({
          cohort,
          date,
          route,
          verdict: VERDICTS[rank] ?? 'ruledOut',
          score: scores[route] ?? 0,
          ruling,
        });
      });
      step(`${record.cohort.name} ${day}`);
    }
  }
  return pairings;
}

/** From best to worst as the shortlist has it: verdict, then score; what is equal keeps the order of dates and routes. */
export const comparePairings = (a: Pairing, b: Pairing): number =>
  verdictRank(a.verdict) - verdictRank(b.verdict) ||
  b.score - a.score ||
  a.date - b.date ||
  a.route - b.route;
