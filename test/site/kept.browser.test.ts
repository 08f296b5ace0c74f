import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { eachSite, SITE_DATE } from '../support/site.ts';

describe('a plan kept on a device', () => {
  const site = eachSite('own');
  let page: Page;
  let path = '';

  beforeAll(async () => {
    const cohort = (await site.cohorts()).get('Marram Seniors');
    const route = (await site.routes()).get('Two Knolls Round');
    path = `/cohorts/${cohort}/routes/${route}/plan?date=${SITE_DATE}`;
    const context = await site.browser.newContext({ acceptDownloads: true });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
  }, 60_000);

  afterAll(() => page?.context().close());

  it('is also one file to save, that needs nothing else', async () => {
    await page.goto(`${site.url}${path}`);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save as one file' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe(`two-knolls-round-${SITE_DATE}.html`);
    const chunks = await (await download.createReadStream()).toArray();
    const html = Buffer.concat(chunks).toString('utf8');
    expect(html).toMatch(/^<!doctype html>/);
    expect(html).not.toMatch(/<script|<link|src=/);
  });

  it('is read without the service, with the time it is from; nothing else of the service is', async () => {
    await page.goto(`${site.url}${path}`);
    await page.getByText(/Kept on this device as of/).waitFor();
    await page.evaluate('navigator.serviceWorker.ready');
    const plan = await page.getAttribute('[data-plan]', 'data-plan');
    await site.stop();

    await page.goto(`${site.url}${plan}`);
    expect(await page.textContent('p[role=status]')).toMatch(
      /^Kept on this device as of \d{4}-\d\d-\d\d \d\d:\d\d, \d+ min ago\. The service does not answer/,
    );
    expect(await page.locator('#emergency').count()).toBe(1);
    expect(await page.textContent('#leaders')).toContain('10:30');

    // The page that leads to the plan is the one that a leader has open: the plan stands in for it.
    await page.goto(`${site.url}${path}`);
    expect(await page.locator('#emergency').count()).toBe(1);

    await page.goto(`${site.url}/routes`);
    expect(await page.textContent('h1')).toBe('Kept on this device');
    // With its style, whatever the browser's own store of files has forgotten.
    const styled = await page.evaluate(
      `fetch(document.querySelector('link[rel=stylesheet]').href, { cache: 'no-store', headers: { accept: 'text/css,*/*;q=0.1' } }).then(({ ok }) => ok)`,
    );
    expect(styled).toBe(true);
  });

  it('is listed, and forgotten when told so', async () => {
    await page.goto(`${site.url}/kept`);
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
