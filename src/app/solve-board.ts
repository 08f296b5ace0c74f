import { EngineError } from '../errors.ts';
import type { BoardProblem } from '../season/board-program.ts';
import { startThread } from '../start-thread.ts';
import type { BoardAnswer, BoardTask } from './board-answer.ts';

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
