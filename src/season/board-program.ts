import type { Clearance } from '../approach/vehicles.ts';
import { at } from '../array.ts';

/** What a party may be kept from a day by. */
export const LIMIT_GROUPS = ['vehicles', 'permits', 'parking', 'leaders', 'dates'] as const;

export type LimitGroup = (typeof LIMIT_GROUPS)[number];

/** A limit as it is stated, for every day. */
export type BoardRule =
  | {
      readonly group: 'vehicles';
      readonly vehicles: number;
      readonly seats: number;
      readonly clearance: Clearance;
    }
  | {
      readonly group: 'permits';
      /** Who states it: routes at a trailhead under one office, the season for a trailhead, or for an office. */
      readonly by: 'permit' | 'trailhead' | 'office';
      readonly name: string;
      readonly partiesPerDay: number;
    }
  | { readonly group: 'parking'; readonly trailhead: string; readonly spaces: number }
  | { readonly group: 'leaders'; readonly label: string }
  | { readonly group: 'dates'; readonly cohort: string };

/** A rule on one day (or for one cohort): at most so much of it is there. */
export interface BoardLimit {
  readonly rule: number;
  readonly capacity: number;
}

export interface Use {
  readonly limit: number;
  readonly amount: number;
}

/** One way to place a cohort: a date, a route and vehicles, with what it takes of each limit. */
export interface BoardOption {
  readonly cohort: number;
  /** What it is worth: the ranking’s own score, every fit before every stretch. */
  readonly score: number;
  readonly uses: readonly Use[];
}

/** The board as plain data; every place in a list is the number that the others name. */
export interface BoardProblem {
  readonly cohorts: number;
  readonly rules: readonly BoardRule[];
  readonly limits: readonly BoardLimit[];
  readonly options: readonly BoardOption[];
}

/** Maximise `objective · x`, each x 0 or 1, each row `atLeast ≤ a · x ≤ atMost`. */
export interface BinaryProgram {
  readonly objective: readonly number[];
  readonly rows: readonly ProgramRow[];
}

interface ProgramRow {
  readonly columns: readonly number[];
  readonly values: readonly number[];
  readonly atLeast: number;
  readonly atMost: number;
}

/** What a stage asks of the board beside its limits. */
export interface Stage {
  /** The number placed, the sum of the scores, or the score of one cohort. */
  readonly maximise: 'placed' | 'score' | { readonly scoreOf: number };
  /** So many are placed at least; 0: any number. */
  readonly placedAtLeast: number;
  /** These have a place; the others may. */
  readonly mustGo: ReadonlySet<number>;
}

/** The program of a stage over some of the options; column k is `kept[k]`. */
export function programOf(
  problem: BoardProblem,
  kept: readonly number[],
  capacities: readonly number[],
  { maximise, placedAtLeast, mustGo }: Stage,
): BinaryProgram {
  const options = kept.map((index) => at(problem.options, index));
  const ofCohort = Array.from({ length: problem.cohorts }, (): number[] => []);
  const ofLimit = problem.limits.map(() => ({ columns: [] as number[], values: [] as number[] }));
  options.forEach(({ cohort, uses }, column) => {
    at(ofCohort, cohort).push(column);
    for (const { limit, amount } of uses) {
      at(ofLimit, limit).columns.push(column);
      at(ofLimit, limit).values.push(amount);
    }
  });
  const rows: ProgramRow[] = ofCohort.map((columns, cohort) => ({
    columns,
    values: columns.map(() => 1),
    atLeast: mustGo.has(cohort) ? 1 : 0,
    atMost: 1,
  }));
  ofLimit.forEach(({ columns, values }, limit) => {
    const atMost = at(capacities, limit);
    const most = values.reduce((sum, value) => sum + value, 0);
    if (most > atMost) rows.push({ columns, values, atLeast: 0, atMost });
  });
  if (placedAtLeast > 0) {
    const columns = options.map((_, column) => column);
    rows.push({ columns, values: columns.map(() => 1), atLeast: placedAtLeast, atMost: problem.cohorts });
  }
  const worth = ({ cohort, score }: BoardOption): number => {
    if (maximise === 'placed') return 1;
    return maximise === 'score' || maximise.scoreOf === cohort ? score : 0;
  };
  return { objective: options.map(worth), rows };
}
