import { describe, expect, it } from 'vitest';
import { sitePages } from '../../scripts/site-pages.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

describe('what a reader has set', () => {
  const site = eachSite('demo');
  const listed = async () =>
    sitePages({ cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE });

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
