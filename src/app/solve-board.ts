import { EngineError } from '../errors.ts';
import { type Assignment, assignBoard, type Solve } from '../season/assign-board.ts';
import type { BoardProblem } from '../season/board-program.ts';
import { type Binding, whyUnplaced } from '../season/why-unplaced.ts';
import { startThread } from '../start-thread.ts';

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

export type SolveBoard = (problem: BoardProblem, solveS: number) => Promise<BoardAnswer>;

/** The solver keeps its time but for the end of a step; a thread that has not answered so long after is ended (design). */
const GRACE_MS = 30_000;

/**
 * Solves a board in a thread of its own, so that a service goes on answering meanwhile.
 *
 * @param solveS the search ends after so long with the best found
 * @throws EngineError `unavailable` where the thread does not answer even then
 */
export const solveBoard: SolveBoard = (problem, solveS) =>
  new Promise((resolve, reject) => {
    const task: BoardTask = { problem, solveS };
    const thread = startThread(new URL('./board-thread', import.meta.url), import.meta.url, task);
    const overdue = setTimeout(
      () => {
        reject(
          new EngineError('unavailable', 'the board was not solved in time: ask with fewer cohorts or dates'),
        );
        void thread.terminate();
      },
      solveS * 1000 + GRACE_MS,
    );
    const end = () => clearTimeout(overdue);
    thread.once('message', (answer: BoardAnswer) => {
      end();
      resolve(answer);
      void thread.terminate();
    });
    thread.once('error', (error) => {
      end();
      reject(error);
    });
    thread.once('exit', (code) => {
      end();
      // After an answer or an error this changes nothing.
      reject(new RangeError(`the thread of the solver ended with ${code} and no answer`));
    });
  });
