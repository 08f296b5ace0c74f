import { type Assignment, assignBoard, type Solve } from '../season/assign-board.ts';
import type { BoardProblem } from '../season/board-program.ts';
import { type Binding, whyUnplaced } from '../season/why-unplaced.ts';

/** What is sent to the thread that solves, and what comes back. */
export interface BoardTask {
  readonly problem: BoardProblem;
  readonly solveS: number;
}

export interface BoardAnswer {
  readonly assignment: Assignment;
  /** One for each cohort without a place. */
  readonly bindings: readonly Binding[];
}

/** The board, and why each cohort that has no place has none. */
export function boardAnswer(problem: BoardProblem, solve: Solve): BoardAnswer {
  const assignment = assignBoard(problem, solve);
  const placed = new Set(assignment.chosen.map((index) => problem.options[index]?.cohort ?? -1));
  const unplaced = [...Array(problem.cohorts).keys()].filter((cohort) => !placed.has(cohort));
  return {
    assignment,
    bindings: unplaced.map((cohort) => whyUnplaced(problem, placed, cohort, solve)),
  };
}
