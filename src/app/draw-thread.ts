/** Runs in a thread of its own (`drawn-apart.ts` starts it): a thousand draws hold everything else for tens of milliseconds. */
import { parentPort } from 'node:worker_threads';
import { drawOrder } from '../sampling/acceptability.ts';

/** What is to be drawn. */
export type DrawJob = Parameters<typeof drawOrder>;

parentPort?.on('message', (job: DrawJob) => parentPort?.postMessage(drawOrder(...job)));
