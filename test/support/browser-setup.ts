import { copyFile, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { servePrintBrowser } from '../../scripts/print-browser.ts';
import { type Config, readConfig } from '../../src/config.ts';
import { startServer } from '../../src/server.ts';

/** The day before the demo's trips. */
export const SITE_NOW_MS = Date.UTC(2026, 6, 10, 12);

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

export const siteConfig = (databaseFile: string): Config => ({
  ...readConfig({ KRUMMHOLZ_LOG: 'silent', KRUMMHOLZ_PORT: '0' }),
  databaseFile,
  demPaths: ['data/demo/dem'],
});

/** Once a run: one browser, the demo stored once, and one service on it. */
export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'krummholz-site-'));
  const stored = join(folder, 'stored.db');
  const loading = await startServer(siteConfig(stored), { nowMs: () => SITE_NOW_MS });
  const headers = { 'content-type': 'application/x-www-form-urlencoded', accept: 'text/html' };
  await fetch(`${loading.url}/demo`, { method: 'POST', redirect: 'manual', headers });
  await loading.close();
  const served = join(folder, 'served.db');
  await copyFile(stored, served);
  const [server, browser] = await Promise.all([
    startServer(siteConfig(served), { nowMs: () => SITE_NOW_MS }),
    servePrintBrowser(),
  ]);
  provide('browserAddress', browser.address);
  provide('demoUrl', server.url);
  provide('demoDatabase', stored);
  return async () => {
    await browser.close();
    await server.close();
    await rm(folder, { recursive: true, force: true });
  };
}
