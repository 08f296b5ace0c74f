/** Runs in a thread of its own (`sample-in-thread.ts` starts it): a thousand trials hold everything else for tens of milliseconds. */
import { parentPort } from 'node:worker_threads';
import { drawOrder } from '../sampling/acceptability.ts';

/** What is to be sampled. */
export type SampleJob = Parameters<typeof drawOrder>;

parentPort?.on('message', (job: SampleJob) => parentPort?.postMessage(drawOrder(...job)));
