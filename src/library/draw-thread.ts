/** Runs in a thread of its own (`drawn-apart.ts` starts it): the draws hold everything else for tens of milliseconds. */
import { parentPort } from 'node:worker_threads';
import { drawRanks } from '../fit/acceptability.ts';

/** What is to be drawn. */
export type DrawJob = Parameters<typeof drawRanks>;

parentPort?.on('message', (job: DrawJob) => {
  const drawn = drawRanks(...job);
  parentPort?.postMessage(drawn, [drawn.places.buffer]);
});
