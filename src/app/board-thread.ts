/** Runs in a thread of its own (`solve-board.ts` starts it): a solve would hold everything else for seconds. */
import { parentPort, workerData } from 'node:worker_threads';
import { type BoardTask, boardAnswer } from './solve-board.ts';
import { openSolver } from './solve-program.ts';

const { problem, solveS } = workerData as BoardTask;
// A stopwatch, not a clock: the limit counts from the moment when the solver is there.
const startMs = performance.now();
const solve = await openSolver(() => startMs + solveS * 1000 - performance.now());
parentPort?.postMessage(boardAnswer(problem, solve));
