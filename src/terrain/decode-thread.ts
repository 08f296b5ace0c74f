/** Runs in a thread of its own (`decode-pool.ts` starts it): unpacking a large block takes tens of milliseconds. */
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

parentPort?.on('message', async ({ bytes, coding, extent }: DecodeJob) => {
  try {
    const heights = await decodeBlock(bytes, coding, extent);
    parentPort?.postMessage({ heights } satisfies DecodeAnswer, [heights.buffer as ArrayBuffer]);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    parentPort?.postMessage({ reason } satisfies DecodeAnswer);
  }
});
