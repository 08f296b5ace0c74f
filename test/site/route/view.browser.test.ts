import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { cutInPrint, sheetsOf } from '../../support/print.ts';
import { eachSite, SITE_DATE } from '../../support/site.ts';

describe('the page of a route', () => {
  const site = eachSite('demo');
  let ofCohort = '';
  let ofRoute = '';
  let training = '';

  beforeAll(async () => {
    const cohort = (await site.cohorts()).get('Marram Seniors');
    const route = (await site.routes()).get('Two Knolls Round');
    ofRoute = `/routes/${route}`;
    ofCohort = `/cohorts/${cohort}/routes/${route}?date=${SITE_DATE}`;
    training = `/cohorts/${cohort}/training?date=${SITE_DATE}&route=${route}`;
  });

  const pins = (page: Page) =>
    page
      .locator('.here')
      .evaluateAll((all) =>
        all.map((one) => `${one.getAttribute('visibility')} ${one.getAttribute('transform')}`),
      );

  it('walks along the route by keys, and says distance, height, time and slope', async () => {
    const page = await site.open(ofCohort);
    const slider = page.getByRole('slider', { name: 'Along the route' });
    await slider.focus();
    await page.keyboard.press('ArrowRight');
    const first = await page.textContent('#along-text');
    expect(first).toMatch(/^0\.0 km from the start, 1,\d{3} m high, about 04:5\d, (up|down|level)/);
    const before = await pins(page);
    expect(before).toHaveLength(3);
    await page.keyboard.press('End');
    expect(await page.textContent('#along-text')).toMatch(
      /^9\.1 km from the start, 1,\d{3} m high, about 11:49/,
    );
    expect(await slider.getAttribute('aria-valuetext')).toBe(await page.textContent('#along-text'));
    expect(await pins(page)).not.toEqual(before);
    await page.context().close();
  });

  it('walks along by pointing at the map and at the profile alike', async () => {
    const page = await site.open(ofCohort);
    const mark = page.locator('.map .mark').nth(4);
    await mark.scrollIntoViewIfNeeded();
    const spot = await page.locator('.map .mark circle').nth(3).boundingBox();
    if (spot === null) throw new Error('the map has no place');
    await page.mouse.move(spot.x + spot.width / 2, spot.y + spot.height / 2);
    const onMap = await page.textContent('#along-text');
    expect(onMap).toMatch(/^4\.[345] km from the start, 2,0\d\d m high, about 08:[34]\d/);
    const profile = page.locator('.profile.wide');
    await profile.scrollIntoViewIfNeeded();
    const box = await profile.boundingBox();
    if (box === null) throw new Error('there is no profile');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height - 60);
    expect(await page.textContent('#along-text')).toMatch(/^4\.[56] km/);
    expect(await page.locator('.here[visibility=visible]').count()).toBe(3);
    expect(site.faults).toEqual([]);
    await page.context().close();
  });

  it('says the same without script: the table has every place with its times', async () => {
    const page = await site.open(ofCohort, { javaScriptEnabled: false });
    expect(await page.locator('#along').isVisible()).toBe(false);
    const row = page.getByRole('row', { name: /Oatcake Knoll/ });
    expect((await row.textContent())?.replace(/\s+/g, ' ')).toMatch(
      /4\.4 km.*2,050 m.*07:42.*08:40.*09:37.*10:30/,
    );
    await page.context().close();
  });

  it('without a cohort shows the ground alone, and leads to one', async () => {
    const page = await site.open(ofRoute);
    expect(await page.locator('h1').textContent()).toBe('Two Knolls Round');
    expect(await page.locator('.places').textContent()).not.toMatch(/\d\d:\d\d/);
    expect(await page.getByText(/Drawn from elevation.*corvanney-west\.tif/).isVisible()).toBe(true);
    await page.getByRole('link', { name: 'Two Knolls Round for Marram Seniors' }).click();
    expect(await page.locator('h1').textContent()).toBe('Two Knolls Round for Marram Seniors');
    await page.context().close();
  });

  it('prints on so many sheets, and none of its rows or drawings is cut', async () => {
    const page = await site.open(ofCohort);
    await page.emulateMedia({ media: 'print' });
    expect(sheetsOf(await page.pdf({ format: 'A4' }))).toBeLessThanOrEqual(4);
    expect(await cutInPrint(page)).toEqual([]);
    await page.goto(`${site.url}${training}`);
    expect(await cutInPrint(page)).toEqual([]);
    expect(await page.getByText('For leaders only').count()).toBe(0);
    await page.context().close();
  });
});
