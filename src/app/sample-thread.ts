/** Runs in a thread of its own (`sample-in-thread.ts` starts it): a thousand trials hold everything else for tens of milliseconds. */
import { parentPort } from 'node:worker_threads';
import { type CertaintyQuestion, tryQuestion } from '../sampling/certainty.ts';

parentPort?.on('message', (question: CertaintyQuestion) => parentPort?.postMessage(tryQuestion(question)));
