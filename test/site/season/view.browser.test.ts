import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { buildApp } from '../../../src/service.ts';
import { addCohort, addRoute, eachService, PUBLIC_URL, sendJson } from '../../http/service.ts';
import { cutInPrint, sheetsOf } from '../../support/print.ts';
import { eachSite, SITE_DATE } from '../../support/site.ts';

describe('the coordinator’s way to a season board', () => {
  const site = eachSite('demo');

  /** One bus for two cohorts on one day. */
  async function ask(page: Page) {
    await page.getByRole('link', { name: 'Season' }).click();
    await page.getByRole('checkbox', { name: /Plover Adults/ }).uncheck();
    await page.getByLabel('Single days').fill(SITE_DATE);
    await page.getByLabel('Vehicle 1: name').fill('school bus');
    await page.getByLabel('Seats, the driver’s too').first().fill('12');
    await page.getByLabel('Name of the season').fill('One Saturday');
    await page.getByRole('button', { name: 'Make the board' }).click();
    await page.getByRole('heading', { name: 'One Saturday' }).waitFor();
  }

  it('leads from the choice to who goes where, why, and who stays behind; and onto paper', async () => {
    const page = await site.open('/');
    await ask(page);
    expect(await page.locator('.lead').textContent()).toContain('1 of 2 cohorts');
    expect(await page.locator('tr.day').allTextContents()).toEqual([`Saturday ${SITE_DATE}`]);
    const row = page.locator('tr.party');
    expect(await row.count()).toBe(1);
    expect(await row.textContent()).toMatch(/school bus.*start by \d\d:\d\d.*back by \d\d:\d\d/);
    expect(await page.locator('tr.why').textContent()).toMatch(/everyone who goes has shown/);
    const without = await page.locator('.without').textContent();
    expect(without).toContain('because of the vehicles');
    expect(without).toContain('More of this alone would do: the one vehicle of 12 seats');

    await page.emulateMedia({ media: 'print' });
    expect(sheetsOf(await page.pdf({ format: 'A4' }))).toBeLessThanOrEqual(2);
    expect(await page.getByText('Change what is asked').isVisible()).toBe(false);
    expect(await cutInPrint(page)).toEqual([]);
    expect(site.faults).toEqual([]);
    await page.context().close();
  });

  it('needs no script, keeps what was asked to be changed, and says what is wrong at its field', async () => {
    const page = await site.open('/', { javaScriptEnabled: false });
    await ask(page);
    await page.getByRole('link', { name: 'Change what is asked' }).click();
    expect(await page.getByRole('checkbox', { name: /Plover Adults/ }).isChecked()).toBe(false);
    expect(await page.getByLabel('Vehicle 1: name').inputValue()).toBe('school bus');
    await page.getByLabel('Its name').first().fill('Uper Sheepfold');
    await page.getByLabel('Parties a day').first().fill('1');
    await page.getByRole('button', { name: 'Make the board' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('Did you mean "Upper Sheepfold"?');
    expect(await page.getByLabel('Its name').first().getAttribute('aria-invalid')).toBe('true');
    await page.getByLabel('Its name').first().fill('Upper Sheepfold');
    await page.getByRole('button', { name: 'Make the board' }).click();
    expect(await page.locator('.made-for').textContent()).toContain('Upper Sheepfold: 1 party a day');
    await page.context().close();
  });

  it('counts in miles and feet where these are chosen', async () => {
    const page = await site.open('/');
    await page.getByRole('button', { name: 'miles and feet' }).click();
    await ask(page);
    const why = await page.locator('tr.why').textContent();
    expect(why).toMatch(/\d\s(mi|ft)\b/);
    expect(why).not.toMatch(/\d\sk?m\b/);
    await page.context().close();
  });
});

describe('a board that takes long', () => {
  const service = eachService();
  const site = eachSite('empty');

  it('is waited for with words, and takes their place', async () => {
    await addRoute(service.app);
    const { id } = await addCohort(service.app);
    const day = { date: '2026-07-01', distanceM: 9000, gainM: 700, movingMin: 240, rockClass: '1' };
    await sendJson(service.app, `/v1/cohorts/${id}/outings`, day);
    let release = (): void => {};
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    let begin = (): void => {};
    const begun = new Promise<void>((resolve) => {
      begin = resolve;
    });
    const slow: typeof service.context = {
      ...service.context,
      async inTurn(work) {
        begin();
        await held;
        return work();
      },
    };
    const app = await buildApp({ ...service, context: slow, publicUrl: PUBLIC_URL });
    const url = await app.listen({ host: '127.0.0.1', port: 0 });
    const context = await site.browser.newContext({ javaScriptEnabled: false });
    try {
      const page = await context.newPage();
      await page.goto(`${url}/season/board?date1=2026-07-11&cohort=${id}`, { waitUntil: 'commit' });
      const words = page.getByRole('status');
      await words.waitFor();
      expect(await words.textContent()).toContain('The search ends after 60 s at most');
      await begun;
      expect(await page.locator('.arrived').count()).toBe(0);
      release();
      await page.locator('.arrived').waitFor();
      expect(await words.isVisible()).toBe(false);
      expect(await page.locator('.lead').textContent()).toContain('of 1 cohort');
    } finally {
      release();
      await context.close();
      await app.close();
    }
  }, 30_000);
});
