import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { type SitePage, sitePages } from '../../scripts/site-pages.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

/** All that a page says: what is seen, what is folded away, what drawings and controls are called, what the slider will say. */
const SAID = `(() => {
  const main = document.querySelector('main');
  for (const part of main.querySelectorAll('details')) part.open = true;
  const texts = [...main.innerText.split('\\n')];
  for (const element of main.querySelectorAll('svg title, svg desc, svg text, svg tspan, option, .unseen')) texts.push(element.textContent);
  for (const element of main.querySelectorAll('*'))
    for (const name of ['aria-label', 'aria-valuetext', 'title', 'placeholder', 'data-along', 'data-said'])
      if (element.hasAttribute(name)) texts.push(...element.getAttribute(name).split('"'));
  return [...new Set(texts.map((text) => text.trim().replace(/\\s+/g, ' ')))];
})()`;

const METRIC = /\d\s*(?:m|km|cm|km\/h)(?![\p{L}\d])|metre/iu;
const US = /\d\s*(?:mi|ft|mph|yards?)(?![\p{L}\d])|\bfeet\b|\bmiles?\b/iu;

/** What stays as it is in either units. */
const KEPT: readonly (readonly [why: string, words: RegExp])[] = [
  ['what the coordinator wrote of a route', /(?:noted with the route|From the coordinator): .*/g],
  ['what one stands on', /eyes on your feet/g],
  ['a rule that is defined by these figures', /30 min a mile and 1 h per 1,000 ft/g],
];

const withoutKept = (text: string): string => KEPT.reduce((left, [, words]) => left.replace(words, ''), text);

describe('the units of a page', () => {
  const site = eachSite({ demo: true });
  let pages: readonly SitePage[] = [];
  let page: Page;

  beforeAll(async () => {
    pages = sitePages({ cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE });
    page = await site.open('/');
    page.setDefaultTimeout(60_000);
  });

  it.each([
    ['miles and feet', METRIC],
    ['kilometres and metres', US],
  ] as const)(
    'are %s alone where these are chosen',
    async (choice, others) => {
      await page.goto(site.url);
      await page.getByRole('button', { name: choice }).click();
      const found: string[] = [];
      for (const { name, path } of pages) {
        await page.goto(`${site.url}${path}`);
        const said = (await page.evaluate(SAID)) as string[];
        found.push(
          ...said.filter((text) => others.test(withoutKept(text))).map((text) => `${name}: ${text}`),
        );
      }
      expect(found).toEqual([]);
    },
    300_000,
  );
});
