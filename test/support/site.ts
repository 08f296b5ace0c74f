import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { type RunningServer, startServer } from '../../src/server.ts';
import { SITE_NOW_MS, siteConfig } from './site-config.ts';
import { tempFolder } from './temp-folder.ts';

export const SITE_DATE = '2026-07-11';

/** The service on the invented range's ground, listening, and a browser. */
export interface Site {
  readonly url: string;
  readonly browser: Browser;
  /** Ids of the demo’s cohorts by name; empty before it is loaded. */
  cohorts(): Promise<ReadonlyMap<string, string>>;
  routes(): Promise<ReadonlyMap<string, string>>;
  /** A page in a context of its own; what goes wrong inside it stands in `faults`. */
  open(path: string, options?: BrowserContextOptions): Promise<Page>;
  readonly faults: string[];
  /** Ends a service of the test file's own, as a service ends that is out of reach. */
  stop(): Promise<void>;
}

async function idsOf(url: string, path: string, key: string): Promise<ReadonlyMap<string, string>> {
  const answer = (await (await fetch(`${url}${path}`)).json()) as Record<
    string,
    { id: string; name: string }[]
  >;
  return new Map((answer[key] ?? []).map(({ name, id }) => [name, id]));
}

/**
 * The browser of the run, for a test file.
 * @returns gives it once the tests have begun
 */
export function eachBrowser(): () => Browser {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.connect(inject('browserAddress'));
  });
  afterAll(() => browser?.close());
  return () => browser;
}

/**
 * @param store `demo`: the service of the run with the demo in it, for tests that change nothing; `own`: one of the
 * test file's own with the demo in it; `empty`: one of its own with nothing in it
 */
export function eachSite(store: 'demo' | 'own' | 'empty'): Site {
  const folder = tempFolder();
  const faults: string[] = [];
  const browser = eachBrowser();
  let server: RunningServer | null = null;
  let url = '';
  beforeAll(async () => {
    if (store === 'demo') {
      url = inject('demoUrl');
      return;
    }
    const databaseFile = join(folder, 'site.db');
    if (store === 'own') copyFileSync(inject('demoDatabase'), databaseFile);
    server = await startServer(siteConfig(databaseFile), { nowMs: () => SITE_NOW_MS });
    url = server.url;
  });
  const stop = async () => {
    await server?.close();
    server = null;
  };
  afterAll(stop);
  return {
    get url() {
      return url;
    },
    get browser() {
      return browser();
    },
    cohorts: () => idsOf(url, '/v1/cohorts?limit=100', 'cohorts'),
    routes: () => idsOf(url, '/v1/routes?limit=100', 'routes'),
    faults,
    stop,
    async open(path, options = {}) {
      const context = await browser().newContext({ viewport: { width: 1280, height: 900 }, ...options });
      const page = await context.newPage();
      page.setDefaultTimeout(30_000);
      page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
      page.on('console', (message) => {
        if (message.type() === 'error') faults.push(`${page.url()}: ${message.text()}`);
      });
      await page.goto(`${url}${path}`);
      return page;
    },
  };
}
