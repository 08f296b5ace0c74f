import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { openPrintBrowser, type PrintBrowser } from '../../scripts/print-browser.ts';
import { type Config, readConfig } from '../../src/config.ts';
import { type RunningServer, startServer } from '../../src/server.ts';
import { tempFolder } from './temp-folder.ts';

/** The day before the demo's trips. */
export const SITE_NOW_MS = Date.UTC(2026, 6, 10, 12);
export const SITE_DATE = '2026-07-11';

/** The service on the invented range's ground, listening, with a browser: one of each for a test file. */
export interface Site {
  readonly url: string;
  readonly browser: Browser;
  /** Ids of the demo’s cohorts by name; empty before it is loaded. */
  cohorts(): Promise<ReadonlyMap<string, string>>;
  routes(): Promise<ReadonlyMap<string, string>>;
  /** A page in a context of its own; what goes wrong inside it stands in `faults`. */
  open(path: string, options?: BrowserContextOptions): Promise<Page>;
  readonly faults: string[];
}

async function idsOf(url: string, path: string, key: string): Promise<ReadonlyMap<string, string>> {
  const answer = (await (await fetch(`${url}${path}`)).json()) as Record<
    string,
    { id: string; name: string }[]
  >;
  return new Map((answer[key] ?? []).map(({ name, id }) => [name, id]));
}

export function eachSite({ demo }: { readonly demo: boolean }): Site {
  const folder = tempFolder();
  const faults: string[] = [];
  let server: RunningServer;
  let opened: PrintBrowser;
  const config: Config = {
    ...readConfig({ KRUMMHOLZ_LOG: 'silent', KRUMMHOLZ_PORT: '0' }),
    databaseFile: join(folder, 'site.db'),
    demPaths: ['data/demo/dem'],
  };
  beforeAll(async () => {
    [server, opened] = await Promise.all([
      startServer(config, { nowMs: () => SITE_NOW_MS }),
      openPrintBrowser(),
    ]);
    if (demo) {
      await fetch(`${server.url}/demo`, {
        method: 'POST',
        redirect: 'manual',
        headers: { 'content-type': 'application/x-www-form-urlencoded', accept: 'text/html' },
      });
    }
  }, 60_000);
  afterAll(async () => {
    await opened?.close();
    await server?.close();
  });
  return {
    get url() {
      return server.url;
    },
    get browser() {
      return opened.browser;
    },
    cohorts: () => idsOf(server.url, '/v1/cohorts?limit=100', 'cohorts'),
    routes: () => idsOf(server.url, '/v1/routes?limit=100', 'routes'),
    faults,
    async open(path, options = {}) {
      const context = await opened.browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
      const page = await context.newPage();
      page.setDefaultTimeout(10_000);
      page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
      page.on('console', (message) => {
        if (message.type() === 'error') faults.push(`${page.url()}: ${message.text()}`);
      });
      await page.goto(`${server.url}${path}`);
      return page;
    },
  };
}
