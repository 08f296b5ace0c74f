import { at } from '../array.ts';
import { neededOptions } from './board-options.ts';
import { type BinaryProgram, type BoardProblem, programOf, type Stage } from './board-program.ts';

/** What the solver found: columns that are 1, and the most that the objective can be. */
export interface Solved {
  /** `null`: none found; with `isProven`, there is none. */
  readonly chosen: readonly number[] | null;
  readonly bound: number;
  readonly isProven: boolean;
}

/** Solves a binary program exactly, or as far as its time goes; `start` are columns of a known answer, or none. */
export type Solve = (program: BinaryProgram, start: readonly number[]) => Solved;

/** The board: which options are taken, and how sure it is that no other is better. */
export interface Assignment {
  /** Places in the problem’s options, one a cohort at most. */
  readonly chosen: readonly number[];
  readonly placed: number;
  /** `null` where nobody is placed. */
  readonly worst: number | null;
  readonly sum: number;
  /** The most that each could still be where time ran out; its own value where it is proven. */
  readonly bounds: { readonly placed: number; readonly worst: number | null; readonly sum: number };
  readonly isProven: boolean;
}

const NOBODY: ReadonlySet<number> = new Set();

const scoresOf = (problem: BoardProblem, chosen: readonly number[]): number[] =>
  chosen.map((index) => at(problem.options, index).score);

export const capacitiesOf = ({ limits }: BoardProblem): number[] => limits.map(({ capacity }) => capacity);

interface StageAsked {
  readonly among: readonly number[];
  readonly capacities: readonly number[];
  readonly stage: Stage;
  /** Options of a known answer; left out: none. */
  readonly start?: readonly number[];
}

/**
 * Solves one stage over some options, first left out what it cannot need; the answer names options of the problem.
 */
export function solveStage(
  problem: BoardProblem,
  { among, capacities, stage, start = [] }: StageAsked,
  solve: Solve,
): Solved {
  const { maximise } = stage;
  const known = new Set(start);
  const kept = neededOptions(
    problem,
    among,
    capacities,
    (cohort) => maximise !== 'placed' && (maximise === 'score' || maximise.scoreOf === cohort),
  );
  const columns = kept.flatMap((index, column) => (known.has(index) ? [column] : []));
  // A start that lost one of its options is none.
  const solved = solve(
    programOf(problem, kept, capacities, stage),
    columns.length === start.length ? columns : [],
  );
  return { ...solved, chosen: solved.chosen?.flatMap((column) => kept[column] ?? []) ?? null };
}

/** The best score of each cohort that has an option, the highest first. */
function bestScores(problem: BoardProblem, kept: readonly number[]): number[] {
  const best = new Map<number, number>();
  for (const index of kept) {
    const { cohort, score } = at(problem.options, index);
    best.set(cohort, Math.max(best.get(cohort) ?? 0, score));
  }
  return [...best.values()].sort((a, b) => b - a);
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

interface Floor {
  readonly chosen: readonly number[];
  readonly worst: number;
  /** The least score that is not yet known to be out of reach. */
  readonly bound: number;
  readonly isProven: boolean;
}

/**
 * The highest floor under the scores at which as many can still be placed. A floor is always one of the scores, so it is
 * found by halving their list, each step a program of its own: no variable for the floor weakens the relaxation.
 */
function highestFloor(
  problem: BoardProblem,
  kept: readonly number[],
  capacities: readonly number[],
  first: readonly number[],
  solve: Solve,
): Floor {
  const placed = first.length;
  const scoreOf = (index: number) => at(problem.options, index).score;
  let chosen = first;
  let worst = Math.min(...scoresOf(problem, first));
  let bound = worst;
  // The worst of so many is no better than when each has its own best.
  const most = bestScores(problem, kept)[placed - 1] ?? 0;
  const floors = [...new Set(kept.map(scoreOf))]
    .filter((score) => score > worst && score <= most)
    .sort((a, b) => a - b);
  let low = 0;
  let high = floors.length - 1;
  // The most that can be hoped for first: it is often reached.
  let middle = high;
  while (low <= high) {
    const floor = at(floors, middle);
    const above = kept.filter((index) => scoreOf(index) >= floor);
    const stage: Stage = { maximise: 'placed', placedAtLeast: placed, mustGo: NOBODY };
    const solved = solveStage(problem, { among: above, capacities, stage }, solve);
    if (solved.chosen === null) {
      if (!solved.isProven) bound = Math.max(bound, floor);
      high = middle - 1;
    } else {
      chosen = solved.chosen;
      worst = Math.min(...scoresOf(problem, chosen));
      while (low <= high && at(floors, low) <= worst) low += 1;
    }
    middle = Math.floor((low + high) / 2);
  }
  bound = Math.max(bound, worst);
  return { chosen, worst, bound, isProven: bound === worst };
}

/**
 * The best board: the most cohorts placed; of such boards the highest worst score; of these the highest sum. Each stage
 * is a binary program that keeps what the one before has found.
 *
 * @param solve exact; where its time runs out the best found is given, with what could still be better
 */
export function assignBoard(problem: BoardProblem, solve: Solve): Assignment {
  const capacities = capacitiesOf(problem);
  // Where scores count: what is left out here is needed by no stage.
  const kept = neededOptions(problem, [...problem.options.keys()], capacities, () => true);
  const placing: Stage = { maximise: 'placed', placedAtLeast: 0, mustGo: NOBODY };
  const most = solveStage(problem, { among: kept, capacities, stage: placing }, solve);
  const first = most.chosen ?? [];
  const placed = first.length;
  const best = bestScores(problem, kept);
  const placedBound = most.isProven
    ? placed
    : Math.max(placed, Math.min(best.length, Math.floor(most.bound + 1e-6)));
  const sumBound = sumOf(best.slice(0, placedBound));
  if (placed === 0) {
    const bounds = { placed: placedBound, worst: null, sum: sumBound };
    return { chosen: [], placed, worst: null, sum: 0, bounds, isProven: most.isProven };
  }
  const floor = highestFloor(problem, kept, capacities, first, solve);
  const above = kept.filter((index) => at(problem.options, index).score >= floor.worst);
  const stage: Stage = { maximise: 'score', placedAtLeast: placed, mustGo: NOBODY };
  const last = solveStage(problem, { among: above, capacities, stage, start: floor.chosen }, solve);
  const chosen = last.chosen ?? floor.chosen;
  const scores = scoresOf(problem, chosen);
  const sum = sumOf(scores);
  return {
    chosen: [...chosen].sort((a, b) => a - b),
    placed,
    worst: Math.min(...scores),
    sum,
    bounds: {
      placed: placedBound,
      worst: floor.bound,
      sum: last.isProven && placedBound === placed ? sum : Math.max(sum, sumBound),
    },
    isProven: most.isProven && floor.isProven && last.isProven,
  };
}
