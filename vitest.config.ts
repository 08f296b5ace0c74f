import { defineConfig } from 'vitest/config';

/** Tests of pages in a browser: one browser, and one service with the demo for those that change nothing. */
const BROWSER = ['test/**/*.browser.test.ts'];

/** Tests of what has a rim: a store, files, HTTP, a terminal, threads. */
const SERVICE = ['test/{app,cli,http,scripts,site,storage}/**/*.test.ts', 'test/server.test.ts'];

/** Files of a project share their modules: what one loads or builds once, the next finds there. */
const shared = { isolate: false, testTimeout: 30_000 };

export default defineConfig({
  test: {
    maxWorkers: '100%',
    reporters: ['default', './test/plain-count.ts'],
    projects: [
      {
        extends: true,
        test: {
          ...shared,
          name: 'browser',
          include: BROWSER,
          hookTimeout: 60_000,
          // A page on its way is waited for as long as the browser's own waits do.
          expect: { poll: { timeout: 30_000 } },
          testTimeout: 60_000,
          globalSetup: './test/support/browser-setup.ts',
        },
      },
      { extends: true, test: { ...shared, name: 'service', include: SERVICE, exclude: BROWSER } },
      {
        extends: true,
        test: { ...shared, name: 'pure', include: ['test/**/*.test.ts'], exclude: [...SERVICE, ...BROWSER] },
      },
    ],
  },
});
