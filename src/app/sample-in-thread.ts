import type { Worker } from 'node:worker_threads';
import { type DrawnOrder, drawOrder } from '../sampling/acceptability.ts';
import { startThread } from '../start-thread.ts';
import type { SampleOrder } from './rankings.ts';
import type { SampleJob } from './sample-thread.ts';

interface Waiting {
  readonly job: SampleJob;
  readonly resolve: (sampled: DrawnOrder) => void;
  readonly reject: (error: unknown) => void;
}

/** Starts the thread; it is to send one `DrawnOrder` for each job, in their order. */
const startSampling = (): Worker =>
  startThread(new URL('./sample-thread', import.meta.url), import.meta.url, null);

/**
 * Samples how sure orders are in a thread of its own, so that a service explains the routes meanwhile, on another core. The answers are
 * those of `drawOrder`. Where the thread cannot be started, or ends, it is done here from then on, what it had been sent
 * too.
 */
export function sampleInThread(start: () => Worker = startSampling): {
  readonly sample: SampleOrder;
  close(): Promise<void>;
} {
  const waiting: Waiting[] = [];
  let thread: Worker | null = null;

  function lose(): void {
    thread = null;
    for (const { job, resolve, reject } of waiting.splice(0)) {
      try {
        resolve(drawOrder(...job));
      } catch (error) {
        reject(error);
      }
    }
  }

  try {
    thread = start();
    // Only work holds the process.
    thread.unref();
    thread.on('message', (sampled: DrawnOrder) => {
      waiting.shift()?.resolve(sampled);
      if (waiting.length === 0) thread?.unref();
    });
    thread.on('error', lose);
    thread.on('exit', lose);
  } catch {
    // No room for a thread.
    thread = null;
  }

  return {
    sample(...job) {
      const worker = thread;
      if (worker === null) return drawOrder(...job);
      return new Promise((resolve, reject) => {
        worker.postMessage(job);
        worker.ref();
        waiting.push({ job, resolve, reject });
      });
    },
    async close() {
      await thread?.terminate();
    },
  };
}
