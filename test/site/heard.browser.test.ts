import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { type SitePage, sitePages } from '../../scripts/site-pages.ts';
import { heardOn, LIVE } from '../support/heard.ts';
import { eachSite, SITE_DATE } from '../support/site.ts';

describe('what is heard of a page', () => {
  const site = eachSite('demo');
  let pages: readonly SitePage[] = [];
  let page: Page;
  const at = (name: string): string => pages.find((one) => one.name === name)?.path ?? '';

  beforeAll(async () => {
    pages = sitePages({ cohorts: await site.cohorts(), routes: await site.routes(), date: SITE_DATE });
    page = await site.open('/');
    page.setDefaultTimeout(60_000);
  });

  it('has a heading for each part of a cohort’s page, and words where there is no score', async () => {
    await page.goto(`${site.url}${at('shortlist')}&start=10:30`);
    const headings = (await heardOn(page)).filter(({ role }) => role === 'heading').map(({ name }) => name);
    expect(headings).toEqual([
      'Marram Seniors',
      'What is asked',
      'Shortlist',
      'As it would be with these changes',
    ]);
    const scores = await page.locator('.shortlist .score').allTextContents();
    expect(scores).toContain('no score');
    expect(scores.every((text) => /^(score \d\.\d\d|no score)$/.test(text))).toBe(true);
  });

  it('says the key of a map once, and where the slider stands before it is moved', async () => {
    await page.goto(`${site.url}${at('route-of-cohort')}`);
    const heard = await heardOn(page);
    const keys = heard.filter(
      ({ role, name, description }) => role !== 'InlineTextBox' && /Contours every/.test(name + description),
    );
    expect(keys.map(({ role }) => role)).toEqual(['StaticText']);
    const slider = heard.find(({ role }) => role === 'slider');
    expect(slider?.valueText).toMatch(/^0\.0 km from the start, 1,\d{3} m high/);
    expect(await page.getAttribute('#along', 'aria-valuetext')).toMatch(/^0\.0 km from the start/);
  });

  it('keeps the focus where it is when a what-if is answered, and gives it to the list when that is taken back', async () => {
    const focused = () =>
      page.evaluate(`document.activeElement.id || document.activeElement.textContent.trim()`);
    await page.goto(`${site.url}${at('shortlist')}`);
    await page.getByText('What if …').focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('start');
    await page.getByLabel('A start at').fill('10:30');
    await page.getByRole('heading', { name: 'As it would be with these changes' }).waitFor();
    expect(await focused()).toBe('start');
    expect(await page.locator('#said').textContent()).toContain(SITE_DATE);
    await page.getByRole('button', { name: 'Show' }).focus();
    await page.keyboard.press('Enter');
    await page.locator('#shortlist:not([aria-busy])').waitFor();
    expect(await focused()).toBe('Show');
    await page.getByRole('link', { name: 'Take them back' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'As it would be' }).waitFor({ state: 'detached' });
    // The page that is opened gives it once it stands.
    await expect.poll(focused).toBe('shortlist');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(`document.getElementById('shortlist').contains(document.activeElement)`)).toBe(
      true,
    );
  });

  it('goes through the sheets of a plan in their order, by the menu to one and back', async () => {
    const focused = () =>
      page.evaluate(`document.activeElement.id || document.activeElement.textContent.trim()`);
    await page.goto(`${site.url}${at('plan-sheets')}`);
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('Skip to the pages');
    await page.keyboard.press('Enter');
    expect(await focused()).toBe('plan');
    await page.getByRole('link', { name: 'Emergency', exact: true }).focus();
    await page.keyboard.press('Enter');
    expect(await focused()).toBe('emergency');
    // The link from the foot of the screen, on a phone.
    await page.setViewportSize({ width: 390, height: 800 });
    await page.getByRole('link', { name: 'Pages', exact: true }).focus();
    await page.keyboard.press('Enter');
    expect(await focused()).toBe('pages');
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('For the leaders');
    await page.setViewportSize({ width: 1280, height: 900 });
    const titles = (await heardOn(page)).filter(({ role }) => role === 'heading').map(({ name }) => name);
    const order = ['Route card', 'Go or not', 'If something goes wrong'].map((title) =>
      titles.findIndex((heading) => heading.startsWith(title)),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });

  /** Of what has the focus; `null` too while a page is on its way. */
  const role = () => page.evaluate('document.activeElement?.getAttribute("role") ?? null').catch(() => null);

  it.each([
    ['cohort-form', 'Store', 'Not stored: Change Marram Seniors', { Participants: '0' }],
    ['day-form', 'Store the day', 'Not stored: Record a day of Marram Seniors', { 'Climb, metres': '9999' }],
    ['route-form', 'Store', 'Not stored: Change Two Knolls Round', { 'Rock class of the hardest move': 'x' }],
    ['season', 'Make the board', 'No board made: Who goes when?', { 'Limit 1: its name': 'Nowhere at all' }],
  ] as const)(
    'begins the title with what failed, and gives the focus to why: %s',
    async (name, button, title, bad) => {
      await page.goto(`${site.url}${at(name)}`);
      for (const [label, text] of Object.entries(bad))
        await page.getByLabel(label, { exact: true }).first().fill(text);
      if (name === 'day-form') {
        await page.getByLabel('Length, km').fill('8');
        await page.getByLabel('Walking time: hours').fill('4');
      }
      await page.evaluate(`for (const form of document.forms) form.noValidate = true`);
      await page.getByRole('button', { name: button, exact: true }).click();
      // The focus is given once the page stands.
      await expect.poll(role).toBe('alert');
      expect(await page.title()).toBe(`${title} · Krummholz`);
    },
  );

  it('says all faults of a form in the note that has the focus, each a way to its field that says it too', async () => {
    await page.goto(`${site.url}${at('route-form')}`);
    for (const [label, text] of Object.entries({
      'Rock class of the hardest move': 'x',
      'Parking spaces': '2.5',
      'Season from, month-day': '13-40',
    }))
      await page.getByLabel(label, { exact: true }).fill(text);
    await page.evaluate(`for (const form of document.forms) form.noValidate = true`);
    await page.getByRole('button', { name: 'Store', exact: true }).click();
    await expect.poll(role).toBe('alert');
    const note = page.getByRole('alert');
    const links = await note.getByRole('link').allTextContents();
    expect(links).toEqual([
      'Rock class of the hardest move',
      'Parking spaces',
      'Season from, month-day',
      'Season to, month-day',
    ]);
    for (const name of links) {
      await note.getByRole('link', { name, exact: true }).click();
      const { label, said } = (await page.evaluate(`{
        const field = document.querySelector(location.hash);
        const ids = field.getAttribute('aria-describedby').split(' ');
        ({ label: field.labels[0].textContent, said: ids.map((id) => document.getElementById(id).textContent).join(' ') });
      }`)) as { label: string; said: string };
      expect(label).toBe(name);
      expect(said).toMatch(/This (must be|is missing)/);
    }
  });

  it('begins the title of a plan and of a list with it too', async () => {
    await page.goto(`${site.url}${at('trip-plan')}&start=dawn`);
    expect(await page.title()).toMatch(/^Not made as asked: Trip plan/);
    await page.goto(`${site.url}${at('shortlist')}&distance=12`);
    expect(await page.title()).toBe('Not shown as asked: Marram Seniors · Krummholz');
    await page.goto(`${site.url}${at('shortlist').replace(SITE_DATE, '2026-02-30')}`);
    expect(await page.title()).toBe('Not shown as asked: Marram Seniors · Krummholz');
  });
});

describe('what is heard while many files are sent', () => {
  const site = eachSite('empty');

  it('is some steps of the way and one summary, in one region', async () => {
    const page = await site.open('/routes');
    page.setDefaultTimeout(60_000);
    const text = readFileSync('data/demo/routes/thimble-rise.gpx', 'utf8');
    const files = Array.from({ length: 16 }, (_, i) => ({
      name: `rise-${i}.gpx`,
      mimeType: 'application/gpx+xml',
      buffer: Buffer.from(i % 8 === 0 ? text.slice(0, 200) : text.replaceAll('Thimble Rise', `Rise ${i}`)),
    }));
    await page.evaluate(`{
      window.heard = [];
      for (const region of document.querySelectorAll('${LIVE}'))
        new MutationObserver(() => window.heard.push(region.textContent))
          .observe(region, { childList: true, characterData: true, subtree: true });
    }`);
    const offer = page.getByText('No files at hand?');
    expect(await offer.count()).toBe(1);
    await page.getByLabel('GPX or GeoJSON files').setInputFiles(files);
    await page.getByRole('button', { name: 'Send' }).click();
    await page.getByText('16 sent, 2 of them not stored.').waitFor();
    expect(await page.evaluate('window.heard')).toEqual([
      'Sending 16 routes …',
      '4 of 16 sent',
      '8 of 16 sent',
      '12 of 16 sent',
      '16 sent, 2 of them not stored.',
    ]);
    expect(await page.locator('#results li').count()).toBe(16);
    // There are routes by now.
    expect(await offer.count()).toBe(0);
    await page.context().close();
  }, 120_000);
});
