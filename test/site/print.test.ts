import { beforeAll, describe, expect, it } from 'vitest';
import { type SitePage, sitePages } from '../../scripts/site-pages.ts';
import { cutInPrint, type Paper, sheetsOf } from '../support/print.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

/** Sheets that the pages made to be printed take with the demo; the plan’s own are held in `printed.test.ts`. */
const SHEETS: Readonly<Record<string, Readonly<Record<Paper, number>>>> = {
  shortlist: { A4: 4, Letter: 5 },
  'route-of-cohort': { A4: 4, Letter: 4 },
  route: { A4: 4, Letter: 4 },
  training: { A4: 3, Letter: 3 },
  'routes-map': { A4: 2, Letter: 2 },
  'season-board': { A4: 2, Letter: 2 },
};

/** Colours of what is drawn and written that are no grey. */
const COLOURED = `[...document.querySelectorAll('main, main *')].flatMap((element) => {
  const { color, stroke, fill } = getComputedStyle(element);
  return [color, stroke, fill].filter((value) => {
    const [r, g, b] = (value.match(/^rgba?\\((\\d+), (\\d+), (\\d+)/) ?? []).slice(1).map(Number);
    return r !== undefined && Math.max(r, g, b) - Math.min(r, g, b) > 8;
  }).map((value) => element.tagName + '.' + element.getAttribute('class') + ' ' + value);
})`;

describe('on paper', () => {
  const site = eachSite({ demo: true });
  let pages: readonly SitePage[] = [];
  beforeAll(async () => {
    const all = sitePages({ cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE });
    pages = all.filter(({ name }) => name in SHEETS);
  });

  it.each(['A4', 'Letter'] as const)(
    'takes so many sheets, cuts no row, figure or entry, and needs no colour to be read: %s',
    async (paper) => {
      const page = await site.open('/');
      page.setDefaultTimeout(60_000);
      await page.emulateMedia({ media: 'print' });
      const sheets: Record<string, number> = {};
      const wrong: unknown[] = [];
      for (const { name, path } of pages) {
        await page.goto(`${site.url}${path}`);
        sheets[name] = sheetsOf(await page.pdf({ format: paper }));
        const coloured = await page.evaluate<string[]>(COLOURED);
        const cut = await cutInPrint(page, paper);
        if (cut.length > 0 || coloured.length > 0) wrong.push([name, cut, [...new Set(coloured)]]);
        await page.setViewportSize({ width: 1280, height: 900 });
      }
      expect(wrong).toEqual([]);
      expect(sheets).toEqual(
        Object.fromEntries(Object.entries(SHEETS).map(([name, of]) => [name, of[paper]])),
      );
      await page.context().close();
    },
    180_000,
  );
});

describe('what a reader has set', () => {
  const site = eachSite({ demo: true });
  const listed = async () =>
    sitePages({ cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE });

  it('is kept to in forced colours: every drawing is in the colours of the system', async () => {
    const page = await site.open('/', { forcedColors: 'active' });
    page.setDefaultTimeout(60_000);
    for (const name of ['shortlist', 'route-of-cohort', 'training', 'routes-map', 'season-board']) {
      const path = (await listed()).find((one) => one.name === name)?.path ?? '';
      await page.goto(`${site.url}${path}`);
      expect([
        name,
        [...new Set(await page.evaluate<string[]>(COLOURED))].filter((text) => !/^A\./.test(text)),
      ]).toEqual([name, []]);
    }
    await page.context().close();
  }, 180_000);

  it('moves nothing where less motion is wanted', async () => {
    const page = await site.open('/', { reducedMotion: 'reduce' });
    page.setDefaultTimeout(60_000);
    const moving = `[document.documentElement, ...document.querySelectorAll('body, body *')].filter((element) => {
      const style = getComputedStyle(element);
      return style.scrollBehavior === 'smooth' || style.animationName !== 'none' || !/^0s(, 0s)*$/.test(style.transitionDuration);
    }).map((element) => element.tagName)`;
    for (const { path } of await listed()) {
      await page.goto(`${site.url}${path}`);
      expect([path, await page.evaluate(moving)]).toEqual([path, []]);
    }
    await page.context().close();
  }, 180_000);

  it('says on paper alone what a route measures in both units, whichever were chosen', async () => {
    const page = await site.open('/');
    page.setDefaultTimeout(60_000);
    for (const choice of ['miles and feet', 'kilometres and metres']) {
      await page.goto(site.url);
      await page.getByRole('button', { name: choice }).click();
      for (const name of ['route', 'route-of-cohort', 'plan-sheets']) {
        await page.goto(`${site.url}${(await listed()).find((one) => one.name === name)?.path ?? ''}`);
        const line = page.locator('.on-paper');
        expect([name, await line.isVisible()]).toEqual([name, false]);
        await page.emulateMedia({ media: 'print' });
        expect([name, await line.isVisible()]).toEqual([name, true]);
        const text = (await line.textContent()) ?? '';
        for (const unit of ['km', 'mi', 'm', 'ft']) expect(text).toMatch(new RegExp(`\\d\\s${unit}\\b`));
        await page.emulateMedia({ media: 'screen' });
      }
    }
    await page.context().close();
  }, 180_000);

  it('does not change the times: they are those of the place, whatever the zone of the device', async () => {
    const path = (await listed()).find(({ name }) => name === 'season-board')?.path ?? '';
    const textIn = async (timezoneId: string) => {
      const page = await site.open(path, { timezoneId });
      const text = await page.locator('.board').textContent();
      await page.context().close();
      return text;
    };
    const here = await textIn('Atlantic/Azores');
    expect(here).toMatch(/\d\d:\d\d/);
    expect(await textIn('Pacific/Auckland')).toBe(here);
  });
});
