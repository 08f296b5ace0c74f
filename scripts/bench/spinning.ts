import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setTimeout } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';

/** Threads that are busy with nothing when they are told to be, and what the event loop feels of them. */
export interface Spinning {
  /** The longest that an idle event loop was held up in so many milliseconds, while all the threads are busy. */
  longestIdleStallMs(ms: number): Promise<number>;
  close(): Promise<void>;
}

// In shared memory: what the threads do, 0 wait or 1 spin. They step back as those that unpack blocks do.
const SPIN = `
const { workerData, parentPort } = require('node:worker_threads');
if (process.platform === 'linux') require('node:os').setPriority(10);
parentPort.postMessage('started');
for (;;) {
  Atomics.wait(workerData, 0, 0);
  while (Atomics.load(workerData, 0) === 1);
}`;

/** Starts the threads; they wait until the first question. */
export async function spinning(threads: number): Promise<Spinning> {
  const state = new Int32Array(new SharedArrayBuffer(4));
  const workers = Array.from({ length: threads }, () => new Worker(SPIN, { eval: true, workerData: state }));
  await Promise.all(workers.map((worker) => new Promise((resolve) => worker.once('message', resolve))));
  return {
    async longestIdleStallMs(ms) {
      Atomics.store(state, 0, 1);
      Atomics.notify(state, 0);
      const delay = monitorEventLoopDelay({ resolution: 1 });
      delay.enable();
      await setTimeout(ms);
      delay.disable();
      Atomics.store(state, 0, 0);
      return delay.max / 1e6;
    },
    async close() {
      await Promise.all(workers.map((worker) => worker.terminate()));
    },
  };
}
