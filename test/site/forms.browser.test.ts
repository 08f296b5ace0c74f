import type { Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { type SitePage, sitePages } from '../../scripts/site-pages.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

interface Form {
  readonly name: string;
  readonly path: string;
  /** Its place among the forms of the page. */
  readonly at: number;
  readonly method: string;
  /** Without what differs from one row to the next. */
  readonly action: string;
}

const FILES: Readonly<Record<string, string>> = {
  files: 'data/demo/routes/thimble-rise.gpx',
  track: 'data/demo/cohorts/walks/seniors-marram-ridge.gpx',
};

/** A day that somebody could have walked. */
const NUMBERS: Readonly<Record<string, string>> = { distance: '8', gain: '500' };

/** How a page is called on which something was not done. */
const NOT_DONE = /^(Not |No board|\d+ of \d+ not|This |There is nothing|Something)/;

const isErasing = ({ action }: Form): boolean => action.endsWith('/delete');
/** A day first, then a route, and the cohort last, or there would be nothing left to erase. */
const erasedAt = ({ action }: Form): number =>
  ['/outings/', '/routes/', '/cohorts/'].findIndex((part) => action.includes(part));

describe('the forms of all pages', () => {
  const site = eachSite('own');
  let pages: readonly SitePage[] = [];
  let page: Page;

  beforeAll(async () => {
    pages = sitePages({ cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE });
    page = await site.open('/', { javaScriptEnabled: false });
    page.setDefaultTimeout(60_000);
  });

  async function formsOf({ name, path }: SitePage): Promise<readonly Form[]> {
    await page.goto(`${site.url}${path}`);
    const found = await page.evaluate<{ method: string; action: string }[]>(
      `[...document.forms].map((form) => ({ method: form.method, action: new URL(form.action).pathname }))`,
    );
    const forms = found.map(({ method, action }, at) => ({
      name,
      path,
      at,
      method,
      action: action.replace(/(?<=_)[A-Za-z0-9_-]{22}/g, '…'),
    }));
    return forms.filter((form, i) => forms.findIndex(({ action }) => action === form.action) === i);
  }

  /** Fills what has to be filled and is not. */
  async function fill(form: Locator): Promise<void> {
    for (const field of await form.locator('[required]').all()) {
      const type = await field.getAttribute('type');
      const id = (await field.getAttribute('id')) ?? '';
      if (type === 'file') await field.setInputFiles(FILES[id] ?? '');
      else if ((await field.inputValue()) === '')
        await field.fill(
          type === 'date' ? SITE_DATE : type === 'number' ? (NUMBERS[id] ?? '7') : `Words for ${id}`,
        );
    }
  }

  it('do what they are for without a script', async () => {
    const all: Form[] = [];
    for (const one of pages) all.push(...(await formsOf(one)));
    expect(new Set(all.map(({ method, action }) => `${method} ${action}`)).size).toBeGreaterThanOrEqual(14);
    const erasing = all.filter(isErasing).sort((a, b) => erasedAt(a) - erasedAt(b));
    expect(erasing).toHaveLength(3);
    const wrong: unknown[] = [];
    for (const { name, path, at, method, action } of [...all.filter((one) => !isErasing(one)), ...erasing]) {
      await page.goto(`${site.url}${path}`);
      const form = page.locator('form').nth(at);
      await page.evaluate(`for (const part of document.querySelectorAll('details')) part.open = true`);
      await fill(form);
      const [answer] = await Promise.all([
        page.waitForResponse(
          (response) =>
            response.request().isNavigationRequest() && (response.status() < 300 || response.status() >= 400),
        ),
        form.locator('button[type=submit]').first().click(),
      ]);
      await page.waitForLoadState();
      const title = await page.title();
      // From where there is nothing the choice of units leads back there.
      if (name === 'not-found') continue;
      if (answer.status() !== 200 || NOT_DONE.test(title)) {
        wrong.push([
          name,
          method,
          action,
          answer.status(),
          title,
          await page.locator('[role=alert]').allTextContents(),
        ]);
      }
    }
    expect(wrong).toEqual([]);
  }, 300_000);
});
