import { Worker } from 'node:worker_threads';

/**
 * Starts a file of ours in a thread of its own. As built the file is JavaScript; run from the sources it is
 * TypeScript, which a thread has to be taught.
 * @param file address of the thread's file beside the caller, without its ending: `new URL('./x', import.meta.url)`
 * @param caller `import.meta.url` of the caller, which tells whether this is the built program
 */
export function startThread(file: URL, caller: string, workerData: unknown): Worker {
  if (caller.endsWith('.js')) return new Worker(new URL(`${file.href}.js`), { workerData });
  const source = JSON.stringify(`${file.href}.ts`);
  const tsx = `import('tsx/esm/api').then(({ register }) => { register(); return import(${source}); })`;
  return new Worker(`${tsx}.catch((error) => { throw error; })`, { eval: true, workerData });
}
