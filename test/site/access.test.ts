import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { type SitePage, sitePages } from '../../scripts/site-pages.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

/** Wider than the page, or than a box of its own that scrolls: what makes a reader scroll two ways. */
const TOO_WIDE = `[...document.querySelectorAll('body *')].filter((element) => {
  const box = element.getBoundingClientRect();
  const style = getComputedStyle(element);
  return box.width > 1 && box.right > document.documentElement.clientWidth + 1 && style.position !== 'absolute';
}).map((element) => element.tagName + '.' + element.getAttribute('class'))`;

/** Controls lower or narrower than the 44 px that a glove needs; links within a sentence are let be (WCAG 2.5.8). */
const TOO_SMALL = `[...document.querySelectorAll('button, input:not([type=hidden]), select, textarea, summary, .button, .tick, .site a')]
  .filter((element) => element.checkVisibility({ visibilityProperty: true }) && !element.closest('.skip'))
  .filter((element) => !(element.type === 'checkbox' && element.closest('.tick')))
  .map((element) => [element.getBoundingClientRect().height, element])
  .filter(([height]) => height < 43.5)
  .map(([height, element]) => element.tagName + ' ' + element.textContent.trim().slice(0, 30) + ' ' + height)`;

describe('every page', () => {
  const site = eachSite({ demo: true });
  let pages: readonly SitePage[] = [];
  let page: Page;

  beforeAll(async () => {
    const names = { cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE };
    const cohort = names.cohorts.get('Marram Seniors');
    pages = [
      ...sitePages(names),
      { name: 'shortlist of nothing', path: `/cohorts/${cohort}?date=${SITE_DATE}&q=nowhere` },
      { name: 'wrong date', path: `/cohorts/${cohort}?date=2026-02-30` },
      { name: 'season of nobody', path: '/season/board?from=2026-07-11&to=2026-07-10' },
    ];
    page = await site.open('/');
  });

  /** What the checker finds, each with its place. */
  async function found(rules: readonly string[] | null): Promise<string[]> {
    const builder = new AxeBuilder({ page });
    const { violations } = await (rules === null ? builder : builder.withRules([...rules])).analyze();
    return violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${page.url()} ${id}: ${target}`));
  }

  it.each([
    ['light', { colorScheme: 'light', media: 'screen' }, null],
    // The same elements in other colours.
    ['dark', { colorScheme: 'dark', media: 'screen' }, ['color-contrast']],
    ['print', { colorScheme: 'light', media: 'print' }, null],
  ] as const)(
    'leaves nothing for a checker of accessibility to find: %s',
    async (_, media, rules) => {
      await page.emulateMedia(media);
      const all: string[] = [];
      for (const { path } of pages) {
        await page.goto(`${site.url}${path}`);
        all.push(...(await found(rules)));
      }
      expect(all).toEqual([]);
      // The checker takes seconds a page on a busy machine.
    },
    300_000,
  );

  it('loses nothing and scrolls one way at 400 % (320 px), with targets for gloves', async () => {
    await page.emulateMedia({ colorScheme: 'light', media: 'screen' });
    await page.setViewportSize({ width: 320, height: 256 });
    const all: unknown[] = [];
    for (const { name, path } of pages) {
      await page.goto(`${site.url}${path}`);
      const wide = (await page.evaluate(TOO_WIDE)) as string[];
      const small = (await page.evaluate(TOO_SMALL)) as string[];
      if (wide.length > 0 || small.length > 0) all.push([name, wide, small]);
    }
    expect(all).toEqual([]);
  }, 120_000);

  it('stays readable with text spacing as WCAG 1.4.12 has it, and in forced colours', async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.emulateMedia({ forcedColors: 'active' });
    for (const { path } of pages) {
      await page.goto(`${site.url}${path}`);
      await page.evaluate(`document.querySelectorAll('body *').forEach((element) => {
        element.style.lineHeight = '1.5'; element.style.letterSpacing = '.12em'; element.style.wordSpacing = '.16em';
      })`);
      expect(await page.evaluate(TOO_WIDE)).toEqual([]);
    }
    await page.emulateMedia({ forcedColors: 'none' });
  });
});
