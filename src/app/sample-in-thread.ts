import type { Worker } from 'node:worker_threads';
import { type CertaintyQuestion, type TriedOrder, tryQuestion } from '../sampling/certainty.ts';
import { startThread } from '../start-thread.ts';
import type { SampleOrder } from './rankings.ts';

interface Waiting {
  readonly question: CertaintyQuestion;
  readonly resolve: (sampled: TriedOrder) => void;
  readonly reject: (error: unknown) => void;
}

/** Starts the thread; it is to send one `TriedOrder` for each question, in their order. */
const startSampling = (): Worker =>
  startThread(new URL('./sample-thread', import.meta.url), import.meta.url, null);

/**
 * Samples how sure orders are in a thread of its own, so that a service explains the routes meanwhile, on another core. The answers are
 * those of `tryQuestion`. Where the thread cannot be started, or ends, it is done here from then on, what it had been sent
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
    for (const { question, resolve, reject } of waiting.splice(0)) {
      try {
        resolve(tryQuestion(question));
      } catch (error) {
        reject(error);
      }
    }
  }

  try {
    thread = start();
    // Only work holds the process.
    thread.unref();
    thread.on('message', (sampled: TriedOrder) => {
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
    sample(question) {
      const worker = thread;
      if (worker === null) return tryQuestion(question);
      return new Promise((resolve, reject) => {
        worker.postMessage(question);
        worker.ref();
        waiting.push({ question, resolve, reject });
      });
    },
    async close() {
      await thread?.terminate();
    },
  };
}
