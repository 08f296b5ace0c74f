import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import { drawOrder, drawRanks, drawSpans, orderOf } from '../fit/acceptability.ts';
import type { RankDraws } from '../fit/rank-draws.ts';
import { startThread } from '../start-thread.ts';
import type { DrawJob } from './draw-thread.ts';
import type { DrawOrder } from './ranked-library.ts';

/** Threads that share the draws (design): each holds the program and its factors, some 40 MB. */
const MOST_THREADS = 2;

interface Waiting {
  readonly job: DrawJob;
  readonly resolve: (drawn: RankDraws) => void;
  readonly reject: (error: unknown) => void;
}

/** Starts a thread; it is to send the `RankDraws` of each job, in their order. */
const startDrawing = (): Worker =>
  startThread(new URL('./draw-thread', import.meta.url), import.meta.url, null);

/** One thread, and what draws in its place once it has ended. */
function drawingThread(start: () => Worker) {
  const waiting: Waiting[] = [];
  let thread: Worker | null = null;

  function lose(): void {
    thread = null;
    for (const { job, resolve, reject } of waiting.splice(0)) {
      try {
        resolve(drawRanks(...job));
      } catch (error) {
        reject(error);
      }
    }
  }

  try {
    thread = start();
    // Only work holds the process.
    thread.unref();
    thread.on('message', (drawn: RankDraws) => {
      waiting.shift()?.resolve(drawn);
      if (waiting.length === 0) thread?.unref();
    });
    thread.on('error', lose);
    thread.on('exit', lose);
  } catch {
    // No room for a thread.
    thread = null;
  }

  return {
    isAlive: (): boolean => thread !== null,
    draw(...job: DrawJob): RankDraws | Promise<RankDraws> {
      const worker = thread;
      if (worker === null) return drawRanks(...job);
      return new Promise((resolve, reject) => {
        worker.postMessage(job);
        worker.ref();
        waiting.push({ job, resolve, reject });
      });
    },
    async close(): Promise<void> {
      await thread?.terminate();
    },
  };
}

/**
 * Draws orders in threads of their own, a part of the draws in each, so that a service tells the routes meanwhile, on
 * another core. The answers are those of `drawOrder`. Where a thread ends, what it had been sent is drawn here; where none
 * is left, or none can be started, all is.
 */
export function drawnApart(start: () => Worker = startDrawing): {
  readonly draw: DrawOrder;
  close(): Promise<void>;
} {
  const threads = Array.from({ length: Math.min(MOST_THREADS, availableParallelism()) }, () =>
    drawingThread(start),
  );
  return {
    draw(leading, group, design) {
      const alive = threads.filter((thread) => thread.isAlive());
      if (alive.length === 0 || leading.length === 0) return drawOrder(leading, group, design);
      const spans = drawSpans(design, alive.length);
      const parts = alive.map((thread, i) => thread.draw(leading, group, design, spans[i]));
      return Promise.all(parts).then((drawn) => orderOf(leading, drawn, design));
    },
    async close() {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
