import { setImmediate as breathe } from 'node:timers/promises';
import type { Design } from '../design.ts';
import { EngineError } from '../errors.ts';
import { type CohortRecord, fitOf, readinessOf } from '../fit/rank-routes.ts';
import type { Pairing, PoolVehicle, SeasonCohort, SeasonQuestion } from '../fit/season.ts';
import { verdictRank } from '../fit/verdict.ts';
import type { UnitSystem } from '../units.ts';

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

/** Others get their turn after so many routes (design: some tens of ms). */
const AT_ONCE = 25;

/**
 * Judges every route for every cohort on every date, by the ranking’s own criteria. What else runs in the process gets its
 * turn in between.
 *
 * @param step is told after each cohort and date
 */
export async function seasonPairings(
  question: SeasonQuestion,
  design: Design,
  units: UnitSystem,
  step: (what: string) => void,
): Promise<Pairing[]> {
  checkSize(question, design.season.mostJudgements);
  const pairings: Pairing[] = [];
  for (const [cohort, of] of question.cohorts.entries()) {
    const record = inVehicles(of, question.vehicles);
    for (const [date, day] of question.dates.entries()) {
      const readiness = readinessOf(record, day, design);
      for (const [route, { route: judged }] of question.routes.entries()) {
        if (route % AT_ONCE === 0) await breathe();
        const { verdict, score, judgements } = fitOf(judged, record, readiness, day, design, units);
        const ruling = judgements.filter((one) => one.verdict === verdict).map(({ name }) => name);
        pairings.push({ cohort, date, route, verdict, score, ruling });
      }
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
