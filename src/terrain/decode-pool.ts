import type { Worker } from 'node:worker_threads';
import { greatestBy } from '../array.ts';
import { startThread } from '../start-thread.ts';
import { type BlockCoding, type BlockExtent, COMPRESSION, decodeBlock } from './decode-block.ts';
import type { DecodeAnswer, DecodeJob } from './decode-thread.ts';
import type { Heights } from './samples.ts';

/*
 * Two threads that unpack blocks, started when the first large block is asked for. An idle thread does not hold the
 * process, so a command ends at once.
 */

/** Threads (design: one a core of a small machine). */
const THREADS = 2;
/** Blocks that a thread has at a time, so that it does not wait for the next while this thread is busy (design). */
const SENT_AHEAD = 2;
/** Blocks up to this many samples are unpacked where they are read: 1 to 2 ms, less than sending them away (design). */
const INLINE_SAMPLES = 32_768;

interface Waiting extends DecodeJob {
  readonly resolve: (heights: Heights) => void;
  readonly reject: (error: Error) => void;
}

interface Thread {
  readonly worker: Worker;
  /** What it was sent, in the order in which it answers. */
  readonly jobs: Waiting[];
}

const threads: Thread[] = [];
const queue: Waiting[] = [];

/**
 * Heights of a block, unpacked in a thread where it is large. The bytes are used up.
 * @throws Error where they do not give the samples that the header promises.
 */
export function decode(bytes: ArrayBuffer, coding: BlockCoding, extent: BlockExtent): Promise<Heights> {
  const samples = coding.blockWidth * coding.blockHeight;
  // Unpacked bytes are only looked through, four times as fast.
  const cost = coding.compression === COMPRESSION.none ? samples / 4 : samples;
  if (cost <= INLINE_SAMPLES) return decodeBlock(bytes, coding, extent);
  return new Promise((resolve, reject) => {
    queue.push({ bytes, coding, extent, resolve, reject });
    next();
  });
}

function next(): void {
  while (queue.length > 0) {
    const thread = leastBusy();
    const job = thread === null ? undefined : queue.shift();
    if (thread === null || job === undefined) return;
    thread.jobs.push(job);
    // Only work holds the process.
    thread.worker.ref();
    const { bytes, coding, extent } = job;
    thread.worker.postMessage({ bytes, coding, extent } satisfies DecodeJob, [bytes]);
  }
}

/** The thread that takes the next block, `null` where all have enough. */
function leastBusy(): Thread | null {
  const least = greatestBy(threads, ({ jobs }) => -jobs.length);
  if (least?.jobs.length === 0) return least;
  if (threads.length < THREADS) return start();
  return least !== null && least.jobs.length < SENT_AHEAD ? least : null;
}

function start(): Thread {
  const worker = startThread(new URL('./decode-thread', import.meta.url), import.meta.url, null);
  const thread: Thread = { worker, jobs: [] };
  threads.push(thread);
  worker.on('message', (answer: DecodeAnswer) => {
    const job = thread.jobs.shift();
    if (thread.jobs.length === 0) worker.unref();
    if ('heights' in answer) job?.resolve(answer.heights);
    else job?.reject(new Error(answer.reason));
    next();
  });
  // A thread that dies takes its blocks with it, which are void then; another is started for the next.
  const lose = (error: Error) => {
    const place = threads.indexOf(thread);
    if (place >= 0) threads.splice(place, 1);
    for (const job of thread.jobs.splice(0)) job.reject(error);
    next();
  };
  worker.on('error', lose);
  worker.on('exit', (code) => lose(new Error(`the thread that unpacks blocks ended with ${code}`)));
  return thread;
}
