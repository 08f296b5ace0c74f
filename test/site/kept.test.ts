import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openPrintBrowser, type PrintBrowser } from '../../scripts/print-browser.ts';
import { readConfig } from '../../src/config.ts';
import { type RunningServer, startServer } from '../../src/server.ts';
import { SITE_DATE, SITE_NOW_MS } from '../support/site.ts';
import { tempFolder } from '../support/temp-folder.ts';

describe('a plan kept on a device', () => {
  const folder = tempFolder();
  let server: RunningServer;
  let opened: PrintBrowser;
  let page: Page;
  let path = '';

  beforeAll(async () => {
    const config = {
      ...readConfig({ KRUMMHOLZ_LOG: 'silent', KRUMMHOLZ_PORT: '0' }),
      databaseFile: join(folder, 'site.db'),
      demPaths: ['data/demo/dem'],
    };
    [server, opened] = await Promise.all([
      startServer(config, { nowMs: () => SITE_NOW_MS }),
      openPrintBrowser(),
    ]);
    const headers = { 'content-type': 'application/x-www-form-urlencoded', accept: 'text/html' };
    await fetch(`${server.url}/demo`, { method: 'POST', redirect: 'manual', headers });
    const list = async (of: string) =>
      (
        (await (await fetch(`${server.url}/v1/${of}?limit=100`)).json()) as Record<
          string,
          { id: string; name: string }[]
        >
      )[of] ?? [];
    const cohort = (await list('cohorts')).find(({ name }) => name === 'Marram Seniors');
    const route = (await list('routes')).find(({ name }) => name === 'Two Knolls Round');
    path = `/cohorts/${cohort?.id}/routes/${route?.id}/plan?date=${SITE_DATE}`;
    const context = await opened.browser.newContext({ acceptDownloads: true });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
  }, 60_000);

  afterAll(async () => {
    await opened?.close();
    await server?.close();
  });

  it('is also one file to save, that needs nothing else', async () => {
    await page.goto(`${server.url}${path}`);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save as one file' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe(`two-knolls-round-${SITE_DATE}.html`);
    const file = join(folder, 'plan.html');
    await download.saveAs(file);
    const html = await readFile(file, 'utf8');
    expect(html).toMatch(/^<!doctype html>/);
    expect(html).not.toMatch(/<script|<link|src=/);
  });

  it('is read without the service, with the time it is from; nothing else of the service is', async () => {
    await page.goto(`${server.url}${path}`);
    await page.getByText(/Kept on this device as of/).waitFor();
    await page.evaluate('navigator.serviceWorker.ready');
    const plan = await page.getAttribute('[data-plan]', 'data-plan');
    await server.close();

    await page.goto(`${server.url}${plan}`);
    expect(await page.textContent('p[role=status]')).toMatch(
      /^Kept on this device as of \d{4}-\d\d-\d\d \d\d:\d\d, \d+ min ago\. The service does not answer/,
    );
    expect(await page.locator('#emergency').count()).toBe(1);
    expect(await page.textContent('#leaders')).toContain('10:35');

    // The page that leads to the plan is the one that a leader has open: the plan stands in for it.
    await page.goto(`${server.url}${path}`);
    expect(await page.locator('#emergency').count()).toBe(1);

    await page.goto(`${server.url}/routes`);
    expect(await page.textContent('h1')).toBe('Kept on this device');
    // With its style, whatever the browser's own store of files has forgotten.
    const styled = await page.evaluate(
      `fetch(document.querySelector('link[rel=stylesheet]').href, { cache: 'no-store', headers: { accept: 'text/css,*/*;q=0.1' } }).then(({ ok }) => ok)`,
    );
    expect(styled).toBe(true);
  });

  it('is listed, and forgotten when told so', async () => {
    await page.goto(`${server.url}/kept`);
    await page.getByRole('link', { name: `Two Knolls Round, ${SITE_DATE}` }).waitFor();
    await page.getByRole('button', { name: 'Forget all plans kept here' }).click();
    await page.getByText('Nothing is kept on this device.').waitFor();
    expect(await page.evaluate(`caches.has('krummholz-plans')`)).toBe(true);
    expect(
      await page.evaluate(
        `caches.open('krummholz-plans').then((cache) => cache.keys()).then((keys) => keys.length)`,
      ),
    ).toBe(0);
  });
});
