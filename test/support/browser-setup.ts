import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import type { TestProject } from 'vitest/node';
import { servePrintBrowser } from '../../scripts/print-browser.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the browser that all test files share. */
    readonly browserAddress: string;
    /** Address of the service with the demo in it, for tests that change nothing. */
    readonly demoUrl: string;
    /** A database file with the demo, for tests that copy it and change the copy. */
    readonly demoDatabase: string;
  }
}

interface DemoServer {
  readonly demoUrl: string;
  readonly demoDatabase: string;
}

async function demoServer(): Promise<DemoServer & { readonly process: ChildProcess }> {
  const process = fork('test/support/demo-server.ts', { execArgv: ['--import', 'tsx'] });
  const [said] = await Promise.race([
    once(process, 'message') as Promise<[DemoServer]>,
    once(process, 'exit').then(([code]) => {
      throw new Error(`the service with the demo ended with ${code}`);
    }),
  ]);
  return { ...said, process };
}

/** Once a run: one browser, the demo stored once, and one service on it. */
export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const [server, browser] = await Promise.all([demoServer(), servePrintBrowser()]);
  provide('browserAddress', browser.address);
  provide('demoUrl', server.demoUrl);
  provide('demoDatabase', server.demoDatabase);
  return async () => {
    await browser.close();
    server.process.disconnect();
    await once(server.process, 'exit');
  };
}
