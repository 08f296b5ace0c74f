import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type SitePage, sitePages } from '../../scripts/site-pages.ts';
import { COLOURED } from '../support/coloured.ts';
import { ambiguous, heardOn, LIVE } from '../support/heard.ts';
import { cutInPrint, type Paper, sheetsOf } from '../support/print.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

/** Wider than the page, or than a box of its own that scrolls: what makes a reader scroll two ways. */
const TOO_WIDE = `[...document.querySelectorAll('body *')].filter((element) => {
  const box = element.getBoundingClientRect();
  const style = getComputedStyle(element);
  return box.width > 1 && box.right > document.documentElement.clientWidth + 1 && style.position !== 'absolute';
}).map((element) => element.tagName + '.' + element.getAttribute('class'))`;

/** Controls lower than the 44 px that a glove needs; links within a sentence are let be (WCAG 2.5.8). */
const TOO_SMALL = `[...document.querySelectorAll('button, input:not([type=hidden]), select, textarea, summary, .button, .tick, .site a')]
  .filter((element) => element.checkVisibility({ visibilityProperty: true }) && !element.closest('.skip'))
  .filter((element) => !(element.type === 'checkbox' && element.closest('.tick')))
  .map((element) => [element.getBoundingClientRect().height, element])
  .filter(([height]) => height < 43.5)
  .map(([height, element]) => element.tagName + ' ' + element.textContent.trim().slice(0, 30) + ' ' + height)`;

const MOVING = `[document.documentElement, ...document.querySelectorAll('body, body *')].filter((element) => {
  const style = getComputedStyle(element);
  return style.scrollBehavior === 'smooth' || style.animationName !== 'none' || !/^0s(, 0s)*$/.test(style.transitionDuration);
}).map((element) => element.tagName)`;

/** Text spacing as WCAG 1.4.12 has it. */
const SPACE_OUT = `document.querySelectorAll('body *').forEach((element) => {
  element.style.lineHeight = '1.5'; element.style.letterSpacing = '.12em'; element.style.wordSpacing = '.16em';
})`;

const OPEN_ALL = `for (const part of document.querySelectorAll('details')) part.open = true`;

/** Every field by the groups it stands in and its label. */
const FIELDS = `[...document.querySelectorAll('main input:not([type=hidden]), main select, main textarea')].map((field) => {
  const groups = [];
  for (let part = field.parentElement; part !== null; part = part.parentElement)
    if (part.matches('fieldset')) groups.push(part.querySelector('legend').textContent);
    else if (part.matches('form')) groups.push(part.getAttribute('aria-label') ?? '');
  return [...groups.reverse(), field.labels[0]?.textContent.trim() ?? ''].join(' / ');
})`;

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

/** Within every field of its kind, and heard after its label. */
const OF_THE_BROWSER = /^Show (date|time) picker$/;

/** Sheets at most that the pages made to be printed take with the demo; the plan’s own are held in `printed`. */
const MOST_SHEETS: Readonly<Record<string, number>> = {
  shortlist: 5,
  'route-of-cohort': 4,
  route: 4,
  training: 3,
  'routes-map': 2,
  'season-board': 2,
};
const PAPERS: readonly Paper[] = ['A4', 'Letter'];

/** Pages with drawings. */
const DRAWN = ['shortlist', 'route-of-cohort', 'training', 'routes-map', 'season-board'];

/** Of pages that say that something is wrong with what is asked. */
const STATUS: Readonly<Record<string, number>> = {
  'not-found': 404,
  'wrong date': 400,
  'season of nobody': 400,
};

/** The pages with placeholders for the ids that are known once the demo is there. */
function pagesOf(cohorts: ReadonlyMap<string, string>, routes: ReadonlyMap<string, string>): SitePage[] {
  const cohort = cohorts.get('Marram Seniors');
  return [
    ...sitePages({ cohorts, routes, date: SITE_DATE }),
    { name: 'shortlist of nothing', path: `/cohorts/${cohort}?date=${SITE_DATE}&q=nowhere` },
    { name: 'wrong date', path: `/cohorts/${cohort}?date=2026-02-30` },
    { name: 'season of nobody', path: '/season/board?from=2026-07-11&to=2026-07-10' },
  ];
}
const placeholders = (...names: string[]) => new Map(names.map((name) => [name, '_']));
const NAMES = pagesOf(
  placeholders('Marram Seniors', 'Cranny Juniors'),
  placeholders('Two Knolls Round', 'Oakum Dome'),
).map(({ name }) => name);

describe('every page', () => {
  const site = eachSite('demo');
  let paths: ReadonlyMap<string, string>;
  let metric: Page;
  let us: Page;

  beforeAll(async () => {
    const pages = pagesOf(await site.cohorts(), await site.routes());
    paths = new Map(pages.map(({ name, path }) => [name, path]));
    metric = await site.open('/');
    us = await site.open('/');
    await us.getByRole('button', { name: 'miles and feet' }).click();
  });
  afterAll(async () => {
    await metric?.context().close();
    await us?.context().close();
  });

  const addressOf = (name: string): string => `${site.url}${paths.get(name)}`;

  /** What the checker of accessibility finds, each with its place. */
  async function found(page: Page, rules: readonly string[] | null): Promise<string[]> {
    const builder = new AxeBuilder({ page });
    const { violations } = await (rules === null ? builder : builder.withRules([...rules])).analyze();
    return violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target}`));
  }

  it.each(NAMES)(
    'can be read, heard and used: %s',
    async (name) => {
      const page = metric;
      await page.setViewportSize({ width: 1280, height: 900 });
      await page.emulateMedia({
        colorScheme: 'light',
        media: 'screen',
        forcedColors: 'none',
        reducedMotion: 'reduce',
      });
      const answer = await page.goto(addressOf(name));
      expect(answer?.status()).toBe(STATUS[name] ?? 200);
      expect.soft(await found(page, null)).toEqual([]);
      expect.soft(await page.evaluate(MOVING), 'moves where less motion is wanted').toEqual([]);
      // The same elements in other colours.
      await page.emulateMedia({ colorScheme: 'dark' });
      expect.soft(await found(page, ['color-contrast']), 'dark').toEqual([]);
      await page.emulateMedia({ colorScheme: 'light', media: 'print' });
      expect.soft(await found(page, ['color-contrast']), 'print').toEqual([]);

      // 400 % on a screen of 1,280 px.
      await page.emulateMedia({ media: 'screen' });
      await page.setViewportSize({ width: 320, height: 256 });
      expect.soft(await page.evaluate(TOO_WIDE), '320 px').toEqual([]);
      expect.soft(await page.evaluate(TOO_SMALL), 'targets for gloves').toEqual([]);
      await page.emulateMedia({ forcedColors: 'active' });
      if (DRAWN.includes(name)) {
        const coloured = (await page.evaluate<string[]>(COLOURED)).filter((text) => !/^A\./.test(text));
        expect.soft([...new Set(coloured)], 'forced colours').toEqual([]);
      }
      await page.setViewportSize({ width: 360, height: 740 });
      await page.evaluate(SPACE_OUT);
      expect.soft(await page.evaluate(TOO_WIDE), 'text spaced out').toEqual([]);

      // What is heard, with all that is folded away: one address for links of one name, one purpose for buttons of
      // one name, one live region; fields that their labels and groups tell apart.
      await page.evaluate(OPEN_ALL);
      const heard = await heardOn(page);
      const links = heard.filter(({ role }) => role === 'link');
      expect.soft([links.length > 0, links.every(({ url }) => url !== '')]).toEqual([true, true]);
      const buttons = heard.filter(
        (one) => ['button', 'DisclosureTriangle'].includes(one.role) && !OF_THE_BROWSER.test(one.name),
      );
      expect.soft(ambiguous(links.map((link) => [link.name, link.url]))).toEqual([]);
      expect.soft(ambiguous(buttons.map((button, i) => [button.name, `${i}`]))).toEqual([]);
      expect.soft(await page.locator(LIVE).count(), 'live regions').toBeLessThanOrEqual(1);
      const fields = await page.evaluate<string[]>(FIELDS);
      expect.soft(fields.filter((field, i) => fields.indexOf(field) !== i)).toEqual([]);
      expect.soft(fields.filter((field) => / \/ (and .*|On|)$/.test(field))).toEqual([]);

      // Units: those that the reader chose, alone.
      const inMetric = (await page.evaluate(SAID)) as string[];
      expect.soft(inMetric.filter((text) => US.test(withoutKept(text)))).toEqual([]);
      await us.goto(addressOf(name));
      const inUs = (await us.evaluate(SAID)) as string[];
      expect.soft(inUs.filter((text) => METRIC.test(withoutKept(text)))).toEqual([]);
    },
    120_000,
  );

  it.each(Object.keys(MOST_SHEETS).flatMap((name) => PAPERS.map((paper) => [name, paper] as const)))(
    'takes few sheets, cuts no row, figure or entry, and needs no colour to be read on paper: %s, %s',
    async (name, paper) => {
      const page = metric;
      await page.setViewportSize({ width: 1280, height: 900 });
      await page.emulateMedia({ colorScheme: 'light', media: 'print', forcedColors: 'none' });
      await page.goto(addressOf(name));
      const pdf = await page.pdf({ format: paper });
      expect(sheetsOf(pdf)).toBeLessThanOrEqual(MOST_SHEETS[name] ?? 0);
      expect([...new Set(await page.evaluate<string[]>(COLOURED))]).toEqual([]);
      expect(await cutInPrint(page, paper)).toEqual([]);
    },
    60_000,
  );
});
