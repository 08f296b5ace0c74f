/** Runs in a thread of its own (`decode-pool.ts` starts it): unpacking a large block takes tens of milliseconds. */
import { constants, setPriority } from 'node:os';
import { parentPort } from 'node:worker_threads';
import { type BlockCoding, type BlockExtent, decodeBlock } from './decode-block.ts';
import type { Heights } from './samples.ts';

export interface DecodeJob {
  readonly bytes: ArrayBuffer;
  readonly coding: BlockCoding;
  readonly extent: BlockExtent;
}

/** What comes back: heights, or why there are none. */
export type DecodeAnswer = { readonly heights: Heights } | { readonly reason: string };

async function answer({ bytes, coding, extent }: DecodeJob): Promise<void> {
  try {
    const heights = await decodeBlock(bytes, coding, extent);
    parentPort?.postMessage({ heights } satisfies DecodeAnswer, [heights.buffer as ArrayBuffer]);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    parentPort?.postMessage({ reason } satisfies DecodeAnswer);
  }
}

/** Where both cores are busy the event loop goes first, and so do the collectors of garbage that it waits for. */
function stepBack(): void {
  // Elsewhere a priority is the whole process's, here it is the calling thread's.
  if (process.platform !== 'linux') return;
  try {
    setPriority(constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // Where it is forbidden the thread works as it is.
  }
}
stepBack();

// Answers come in the order of the questions.
let last = Promise.resolve();
parentPort?.on('message', (job: DecodeJob) => {
  last = last.then(() => answer(job));
});
