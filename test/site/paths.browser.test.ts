import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { sheetsOf } from '../support/print.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

const bytesOf = (name: string) => readFileSync(`data/demo/routes/${name}`);
const file = (name: string, mimeType: string, buffer: Buffer) => ({ name, mimeType, buffer });
const GPX = 'application/gpx+xml';

describe('the coordinator’s and the instructor’s ways through the pages', () => {
  const site = eachSite('empty');

  it('leads from an empty store to routes: three files, one broken, the others stored and stated', async () => {
    const page = await site.open('/');
    expect(await page.textContent('h1')).toContain('Which summit day');
    await page.getByRole('link', { name: 'Add routes' }).click();

    await page
      .getByLabel('GPX or GeoJSON files')
      .setInputFiles([
        file('thimble-rise.gpx', GPX, bytesOf('thimble-rise.gpx')),
        file('broken.gpx', GPX, Buffer.from('<gpx><trk><trkseg><trkpt lat="46.1"')),
        file('two-knolls-round.gpx', GPX, bytesOf('two-knolls-round.gpx')),
        file('two-knolls-round.route.json', 'application/json', bytesOf('two-knolls-round.route.json')),
      ]);
    await page.getByRole('button', { name: 'Send' }).click();
    await page.getByText('3 sent, 1 of them not stored.').waitFor();
    const results = await page.locator('#results li').allTextContents();
    expect(results).toHaveLength(3);
    expect(await page.textContent('#summary')).toContain('1 not stored: mend and send it again.');
    expect(results[0]).toMatch(/broken\.gpx: not stored: .*line 1/);
    expect(results[1]).toContain('thimble-rise.gpx: stored: Thimble Rise');
    expect(results[2]).toContain('two-knolls-round.gpx: stored: Two Knolls Round');
    expect(await page.locator('table.routes tbody tr').count()).toBe(2);

    await page.getByRole('link', { name: 'state its class and more of Thimble Rise' }).click();
    await page.getByLabel('Rock class of the hardest move').fill('seven');
    await page.getByRole('button', { name: 'Store', exact: true }).click();
    expect(await page.getByRole('alert').textContent()).toContain('Nothing has been stored yet.');
    expect(await page.getByLabel('Rock class of the hardest move').getAttribute('aria-invalid')).toBe('true');
    await page.getByLabel('Rock class of the hardest move').fill('1');
    await page.getByLabel('Treeline, metres').fill('1950');
    await page.getByLabel('Season from').fill('06-01');
    await page.getByLabel('Season to').fill('10-31');
    await page.getByRole('button', { name: 'Store', exact: true }).click();
    await page.getByRole('link', { name: 'Routes', exact: true }).first().click();
    const row = page.getByRole('row', { name: /Thimble Rise/ });
    expect(await row.textContent()).not.toContain('not stated');

    await page.getByRole('link', { name: 'On a map' }).click();
    await page.getByRole('heading', { name: 'Routes on a map' }).waitFor();
    const listed = page.getByRole('list', { name: 'Routes by their number on the map' });
    expect(await listed.getByRole('link').allTextContents()).toEqual(['Thimble Rise', 'Two Knolls Round']);
    expect(await listed.textContent()).toMatch(/Thimble Rise.*class 1/);
    expect(await page.locator('svg.map').count()).toBeGreaterThan(0);
    await page.context().close();
  });

  it('takes files that are dropped', async () => {
    const page = await site.open('/routes');
    const text = bytesOf('oatcake-knoll.gpx').toString();
    await page.evaluate(`{
      const data = new DataTransfer();
      data.items.add(new File([${JSON.stringify(text)}], 'oatcake-knoll.gpx'));
      document.getElementById('drop').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    }`);
    await page.getByText('1 sent.').waitFor();
    expect(await page.locator('#results li').textContent()).toContain('Oatcake Knoll');
    await page.context().close();
  });

  it('leads from a new cohort to its first day on a phone, and to a verdict', async () => {
    const page = await site.open('/cohorts/new', { viewport: { width: 360, height: 740 }, hasTouch: true });
    await page.getByLabel('Name', { exact: true }).fill('Skerry Seniors');
    await page.getByLabel('Participants', { exact: true }).fill('6');
    await page.getByLabel('Leaders').fill('2');
    await page.getByLabel('Age band').selectOption('15-17');
    await page.getByLabel('Labels of participants').fill('m1, m2 m3');
    await page.getByLabel('Hardest rock class in comfort').fill('2');
    await page.getByLabel('Earliest start').fill('04:00');
    await page.getByLabel('Height of the night before').fill('60');
    await page.getByLabel('Altitude illness before').selectOption('none');
    await page.getByRole('button', { name: 'Store', exact: true }).tap();

    await page.getByRole('heading', { name: 'Record a day of Skerry Seniors' }).waitFor();
    await page.getByLabel('Day', { exact: true }).fill('2026-07-04');
    await page.getByLabel('Length, km').fill('8.5');
    await page.getByLabel('Climb, metres').fill('9999');
    await page.getByLabel('Walking time: hours').fill('4');
    await page.getByLabel('Walking time: minutes').fill('10');
    await page.getByLabel('Rock class of the hardest move').first().fill('1');
    await page.getByRole('button', { name: 'Store the day' }).tap();
    await page.getByRole('alert').waitFor();
    // What was written is still there.
    expect(await page.getByLabel('Length, km').inputValue()).toBe('8.5');
    await page.getByLabel('Climb, metres').fill('620');
    await page.getByRole('button', { name: 'Store the day' }).tap();
    await page.getByText('The day is stored').waitFor();
    await page.getByRole('link', { name: 'To the shortlist' }).tap();
    await page.getByRole('heading', { name: 'Skerry Seniors', exact: true }).waitFor();
    await page.getByLabel('Date').fill(SITE_DATE);
    await page.getByRole('button', { name: 'Show' }).tap();
    await page.getByText(`${SITE_DATE}: 3 routes`).first().waitFor();
    await page.context().close();
  });

  it('has reported no fault of its own on the way but the refusals that were meant', () => {
    expect(site.faults.filter((fault) => !/status of 4\d\d/.test(fault))).toEqual([]);
  });
});

describe('the instructor’s way, with the invented range', () => {
  const site = eachSite('own');

  it('leads from the cohort to a shortlist, another date, a route and its plan', async () => {
    const page = await site.open('/');
    await page.getByRole('link', { name: 'Marram Seniors', exact: true }).click();
    await page.getByLabel('Date').fill(SITE_DATE);
    await page.waitForURL(new RegExp(`date=${SITE_DATE}`));
    await page.getByText(`${SITE_DATE}: 22 routes`).first().waitFor();
    expect(await page.locator('.shortlist tbody').count()).toBe(22);
    expect(await page.locator('th[aria-sort]').count()).toBe(1);

    // Filters take effect as they are made, and are said.
    await page.getByRole('checkbox', { name: 'fits', exact: true }).check();
    await page.waitForURL(/verdict=fits/);
    await page.locator('#shortlist:not([aria-busy])').waitFor();
    const fitting = await page.locator('.shortlist tbody').count();
    expect(fitting).toBeLessThan(22);
    expect(await page.locator('#said').textContent()).toContain(`${fitting} of 22 routes`);

    await page.getByRole('link', { name: 'Climb' }).click();
    await page.waitForURL(/sort=climb/);
    await page.locator('th[aria-sort="ascending"] a[data-within="sort-climb"]').waitFor();
    const climbs = await page.locator('.shortlist td.num:nth-child(5)').allTextContents();
    const metres = climbs.map((text) => Number(text.replace(/\D/g, '')));
    expect(metres).toEqual([...metres].sort((a, b) => a - b));
    // The link that was pressed keeps the focus though the table is a new one.
    await expect.poll(() => page.evaluate('document.activeElement?.dataset.within')).toBe('sort-climb');

    await page.getByLabel('Date').fill('2026-12-24');
    await page.waitForURL(/date=2026-12-24/);
    await page.locator('#shortlist:not([aria-busy])').waitFor();
    expect(await page.locator('#said').textContent()).toContain('2026-12-24');

    await page.goto(`${site.url}/cohorts/${(await site.cohorts()).get('Marram Seniors')}?date=${SITE_DATE}`);
    await page.locator('.shortlist tbody th').getByRole('link', { name: 'Two Knolls Round' }).click();
    expect(await page.textContent('h1')).toContain('Two Knolls Round');
    await page.getByRole('link', { name: /plan/i }).first().click();
    await page.waitForLoadState();
    expect(await page.content()).toContain('Route card');
    await page.context().close();
  });

  it('takes up what was changed before its script was there', async () => {
    const page = await site.open('/');
    let letGo = (): void => {};
    const held = new Promise<void>((resolve) => {
      letGo = resolve;
    });
    await page.route(/shortlist[^/]*\.js/, async (route) => {
      await held;
      await route.continue();
    });
    const path = `/cohorts/${(await site.cohorts()).get('Marram Seniors')}`;
    await page.goto(`${site.url}${path}?date=${SITE_DATE}`, { waitUntil: 'commit' });
    await page.getByLabel('Date').fill('2026-07-12');
    letGo();
    await page.waitForURL(/date=2026-07-12/);
    await page.getByText('2026-07-12: 22 routes').first().waitFor();
    await page.context().close();
  });

  it('answers what-ifs as they are made, says what moved, and takes them back', async () => {
    const id = (await site.cohorts()).get('Cranny Juniors');
    const page = await site.open(`/cohorts/${id}?date=${SITE_DATE}`);
    const stored = await page.locator('[data-summary]').textContent();
    await page.getByText('What if …').click();
    // Half typed: what is asked is refused, the list stays as it is, and so does the page.
    const [refused] = await Promise.all([
      page.waitForResponse((answer) => answer.url().includes('distance=12')),
      page.getByLabel('Length, km').fill('12'),
    ]);
    expect(refused.ok()).toBe(false);
    await page.locator('#shortlist:not([aria-busy])').waitFor();
    expect(await page.locator('[data-summary]').textContent()).toBe(stored);
    await page.getByLabel('Climb, metres').fill('900');
    await page.getByLabel('Hours').fill('5');
    await page.getByText('As it would be with these changes').waitFor();
    const moved = await page.locator('#shortlist .notice li').allTextContents();
    expect(moved.join()).toMatch(/becomes fits/);
    expect(page.url()).toMatch(/distance=12.*gain=900/);

    await page.getByLabel('A start at').fill('10:30');
    await page.waitForURL(/start=10%3A30/);
    await page.locator('#shortlist:not([aria-busy])').waitFor();
    await page.getByRole('link', { name: 'Take them back' }).click();
    await page.locator('#shortlist .notice').waitFor({ state: 'detached' });
    expect(await page.locator('[data-summary]').textContent()).toBe(stored);
    // Nothing of it was stored.
    const outings = await fetch(`${site.url}/v1/cohorts/${id}/outings`);
    expect(JSON.stringify(await outings.json())).not.toContain('12000');
    await page.context().close();
  });

  it('answers a what-if without script too, and says what is wrong with one', async () => {
    const id = (await site.cohorts()).get('Cranny Juniors');
    const page = await site.open(`/cohorts/${id}?date=${SITE_DATE}`, { javaScriptEnabled: false });
    await page.getByText('What if …').click();
    await page.getByLabel('Below treeline by').fill('09:00');
    await page.getByLabel('m3', { exact: true }).check();
    await page.getByRole('button', { name: 'Show' }).click();
    expect(await page.locator('#shortlist .notice').textContent()).toContain(
      'As it would be with these changes',
    );
    // What was asked stands in the form still.
    expect(await page.getByLabel('Below treeline by').inputValue()).toBe('09:00');
    expect(await page.getByLabel('m3', { exact: true }).isChecked()).toBe(true);
    await page.getByLabel('Length, km').fill('12');
    await page.getByRole('button', { name: 'Show' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('gainM');
    await page.context().close();
  });

  it('can be gone by keyboard alone', async () => {
    const page = await site.open('/');
    const focused = () => page.evaluate('document.activeElement.textContent.trim()');
    const tabTo = async (text: string) => {
      for (let i = 0; i < 60; i += 1) {
        await page.keyboard.press('Tab');
        if ((await focused()) === text) return;
      }
      throw new RangeError(`no ${text} on the way`);
    };
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('Skip to the page');
    await page.keyboard.press('Enter');
    await tabTo('Marram Seniors');
    await page.keyboard.press('Enter');
    await page.waitForURL(/cohorts\/co_/);
    await tabTo('Two Knolls Round');
    // The focus is seen.
    expect(await page.evaluate('getComputedStyle(document.activeElement).outlineStyle')).toBe('solid');
    await page.keyboard.press('Enter');
    await page.waitForURL(/routes\/rt_/);
    expect(await page.textContent('h1')).toContain('Two Knolls Round');
    await tabTo('The trip plan');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/plan\?/);
    await tabTo('Open to read or print');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/plan\/sheets\?/);
    expect(await page.locator('#emergency').count()).toBe(1);
    await page.context().close();
  });

  it('leads through a what-if to a route, its plan, and the plan on paper', async () => {
    const page = await site.open('/');
    await page.getByRole('link', { name: 'Cranny Juniors', exact: true }).click();
    await page.getByLabel('Date').fill(SITE_DATE);
    await page.waitForURL(new RegExp(`date=${SITE_DATE}`));
    await page.getByText('What if …').click();
    await page.getByLabel('A start at').fill('07:00');
    await page.getByText('As it would be with these changes').waitFor();
    await page.getByRole('link', { name: 'Take them back' }).click();
    await page.locator('#shortlist .notice').waitFor({ state: 'detached' });
    const [name = ''] = await page.locator('.shortlist tbody th a').allTextContents();
    await page.locator('.shortlist tbody th a').first().click();
    await page.getByRole('link', { name: 'The trip plan' }).click();
    await page.getByRole('heading', { name: `Trip plan · ${name}, ${SITE_DATE}` }).waitFor();
    const sheets = await page.locator('.sheets a').allTextContents();
    await page.getByRole('link', { name: 'Open to read or print' }).click();
    const parts = await page.locator('.page').count();
    expect(parts).toBe(sheets.length);
    await page.emulateMedia({ media: 'print' });
    const printed = sheetsOf(await page.pdf({ format: 'A4' }));
    // Each part begins on a sheet of its own.
    expect(printed).toBeGreaterThanOrEqual(parts);
    expect(printed).toBeLessThanOrEqual(2 * parts);
    await page.context().close();
  });

  it('needs no script but for what takes effect as it is made', async () => {
    const page = await site.open('/', { javaScriptEnabled: false });
    await page.getByRole('link', { name: 'Cranny Juniors', exact: true }).click();
    await page.getByLabel('Date').fill(SITE_DATE);
    await page.getByLabel('Find a name or trailhead').fill('knoll');
    await page.getByLabel('Order by').selectOption('gain');
    await page.getByRole('button', { name: 'Show' }).click();
    expect(page.url()).toMatch(/q=knoll/);
    expect(await page.locator('.shortlist tbody').count()).toBe(2);

    await page.goto(`${site.url}/routes`);
    await page
      .getByLabel('GPX or GeoJSON files')
      .setInputFiles([
        file('thimble-rise.gpx', GPX, bytesOf('thimble-rise.gpx')),
        file('broken.gpx', GPX, Buffer.from('no gpx')),
      ]);
    await page.getByRole('button', { name: 'Send' }).click();
    const results = await page.locator('#results li').allTextContents();
    expect(results).toHaveLength(2);
    expect(results[0]).toContain('broken.gpx: not stored');

    await page.getByRole('button', { name: 'miles and feet' }).click();
    expect(page.url()).toBe(`${site.url}/routes`);
    expect(await page.locator('table.routes').textContent()).toContain('mi');
    await page.context().close();
  });

  it('has reported no fault of its own', () => {
    expect(site.faults.filter((fault) => !/status of 400/.test(fault))).toEqual([]);
  });
});
