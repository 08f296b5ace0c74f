import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { emergencyPage } from '../../src/document/emergency-page.ts';
import { officePage } from '../../src/document/office-page.ts';
import { participantPage } from '../../src/document/participant-page.ts';
import type { PlanDocument } from '../../src/document/plan-document.ts';
import { planHtml } from '../../src/document/plan-html.tsx';
import { FULL_DAY, LONGEST_DAY, MANY_PLACES, PLAN } from '../support/plan-document.ts';
import { sheetsOf } from '../support/print.ts';
import { eachBrowser } from '../support/site.ts';
import { BARE } from './day-facts.ts';

const PX_PER_MM = 96 / 25.4;
const MARGIN_MM = 12;
const PAPER = { A4: { width: 210, height: 297 }, Letter: { width: 215.9, height: 279.4 } } as const;
type Paper = keyof typeof PAPER;
const PAPERS = ['A4', 'Letter'] as const;

/** The plan with one of its pages alone. */
const only = (document: PlanDocument, key: string): PlanDocument => ({
  ...document,
  pages: document.pages.filter((page) => page.key === key),
});

async function sheets(page: Page, document: PlanDocument, format: Paper): Promise<number> {
  await page.setContent(planHtml(document));
  return sheetsOf(await page.pdf({ format }));
}

/**
 * Sets each page of the plan as columns of the size of the paper: columns break where sheets do, and unlike sheets can
 * be measured. Gives how many there are, what is cut in two, headings at the end of a column, and what is too wide.
 */
const MEASURE = `(width, height) => {
  const found = { columns: {}, cut: [], orphans: [], wide: [], small: [] };
  for (const page of document.querySelectorAll('.page')) {
    const frame = document.createElement('div');
    frame.style.cssText = 'column-fill:auto;column-gap:40px;width:' + width + 'px;height:' + height + 'px;column-width:' + width + 'px';
    page.replaceWith(frame);
    frame.append(page);
    const left = frame.getBoundingClientRect().left;
    const columnOf = (box) => Math.floor((box.left - left + 1) / (width + 40));
    const name = (element) => page.id + ': ' + element.tagName + ' ' + element.textContent.slice(0, 40);
    const boxes = [...page.getClientRects()];
    found.columns[page.id] = Math.max(...boxes.map(columnOf)) + 1;
    for (const element of page.querySelectorAll('tr, li, p, h2, h3, figure, footer')) {
      const parts = [...element.getClientRects()].filter((box) => box.height > 0.5);
      if (new Set(parts.map(columnOf)).size > 1) found.cut.push(name(element));
      for (const box of parts) {
        if (box.right > left + columnOf(box) * (width + 40) + width + 1) found.wide.push(name(element));
      }
      if (parseFloat(getComputedStyle(element).fontSize) < 11.99) found.small.push(name(element));
    }
    for (const heading of page.querySelectorAll('h3')) {
      const next = heading.nextElementSibling;
      const first = next && (next.querySelector('tbody tr, li') ?? next);
      if (first && columnOf(first.getBoundingClientRect()) !== columnOf(heading.getBoundingClientRect())) {
        found.orphans.push(name(heading));
      }
    }
  }
  return found;
}`;

interface Measured {
  readonly columns: Record<string, number>;
  readonly cut: string[];
  readonly orphans: string[];
  readonly wide: string[];
  readonly small: string[];
}

async function measured(page: Page, format: Paper): Promise<Measured> {
  const width = Math.floor((PAPER[format].width - 2 * MARGIN_MM) * PX_PER_MM);
  const height = Math.floor((PAPER[format].height - 2 * MARGIN_MM) * PX_PER_MM);
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width, height });
  await page.setContent(planHtml(PLAN));
  return page.evaluate<Measured>(`(${MEASURE})(${width}, ${height})`);
}

/** Nothing on the page sticks out of the window. */
const OVERFLOW = `document.documentElement.scrollWidth - document.documentElement.clientWidth`;
const TOO_WIDE = `[...document.querySelectorAll('body *:not(.unseen, .skip)')]
  .filter((element) => element.getBoundingClientRect().right > innerWidth + 1 && !element.closest('svg, thead'))
  .map((element) => element.tagName + ' ' + element.textContent.slice(0, 40))`;
/** Labels of the drawing that is shown, two and two that touch. */
const TOUCHING = `(() => {
  const svg = [...document.querySelectorAll('svg.profile')].find((one) => one.getBoundingClientRect().width > 0);
  const boxes = [...svg.querySelectorAll('.marks .label')].map((label) => [label.textContent, label.getBoundingClientRect()]);
  const frame = svg.getBoundingClientRect();
  const outside = boxes.filter(([, box]) => box.left < frame.left - 1 || box.right > frame.right + 1).map(([text]) => text);
  return outside.concat(boxes.flatMap(([text, a], i) => boxes.slice(i + 1)
    .filter(([, b]) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
    .map(([other]) => text + ' / ' + other)));
})()`;

const browser = eachBrowser();

/** A page of its own for each test. */
async function inBrowser<T>(run: (page: Page) => Promise<T>): Promise<T> {
  const page = await browser().newPage();
  try {
    return await run(page);
  } finally {
    await page.close();
  }
}

describe('a printed plan', () => {
  it('starts each page on a new sheet, on A4 and Letter, and cuts nothing', async () => {
    await inBrowser(async (page) => {
      for (const format of PAPERS) {
        const found = await measured(page, format);
        expect(found.cut, format).toEqual([]);
        expect(found.wide, format).toEqual([]);
        expect(found.orphans, format).toEqual([]);
        // 9 pt are 12 px.
        expect(found.small, format).toEqual([]);
        const alone: Record<string, number> = {};
        for (const { key } of PLAN.pages) alone[key] = await sheets(page, only(PLAN, key), format);
        // Measured in columns and counted in the PDF: two ways to the same number.
        expect(alone, format).toEqual(found.columns);
        const all = await sheets(page, PLAN, format);
        expect(all, format).toBe(Object.values(alone).reduce((sum, count) => sum + count, 0));
      }
    });
  }, 120_000);

  it('has the participants’, the emergency and the office’s page on one sheet each, in both units', async () => {
    await inBrowser(async (page) => {
      for (const facts of [FULL_DAY, BARE, MANY_PLACES, LONGEST_DAY]) {
        for (const units of ['metric', 'us'] as const) {
          const pages = [
            { key: 'emergency', page: emergencyPage(facts, units, DESIGN) },
            { key: 'participants', page: participantPage(facts, units, DESIGN) },
            { key: 'office', page: officePage(facts, units, DESIGN) },
          ] as const;
          for (const format of PAPERS) {
            expect(await sheets(page, { ...PLAN, pages }, format), `${units} ${format}`).toBe(3);
          }
        }
      }
    });
  }, 120_000);
});

describe('a plan on a screen', () => {
  it('fits from 320 px on without scrolling sideways, in light and dark', async () => {
    await inBrowser(async (page) => {
      await page.setContent(planHtml(PLAN));
      for (const width of [320, 390, 768, 1000, 1280, 1920]) {
        await page.setViewportSize({ width, height: 800 });
        expect(await page.evaluate(OVERFLOW), `${width}`).toBe(0);
        expect(await page.evaluate(TOO_WIDE), `${width}`).toEqual([]);
        expect(await page.evaluate(TOUCHING), `${width}`).toEqual([]);
      }
      const paper = `getComputedStyle(document.querySelector('.page')).backgroundColor`;
      const light = await page.evaluate(paper);
      await page.emulateMedia({ colorScheme: 'dark' });
      expect(await page.evaluate(paper)).not.toBe(light);
    });
  }, 60_000);

  it('leads past the menu by the first key, and keeps targets tall enough for a thumb', async () => {
    await inBrowser(async (page) => {
      await page.setViewportSize({ width: 390, height: 800 });
      await page.setContent(planHtml(PLAN));
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.className')).toBe('skip');
      expect(await page.evaluate('document.activeElement.getBoundingClientRect().width')).toBeGreaterThan(40);
      // 44 px (WCAG 2.2, 2.5.5).
      const heights = `Math.min(...[...document.querySelectorAll('nav a')].map((a) => a.getBoundingClientRect().height))`;
      expect(await page.evaluate(heights)).toBeGreaterThanOrEqual(44);
    });
  }, 60_000);

  it('shows a wide table as cards on a phone, which are still a table to those who hear the page', async () => {
    await inBrowser(async (page) => {
      await page.setViewportSize({ width: 390, height: 800 });
      await page.setContent(planHtml(only(PLAN, 'emergency')));
      const { page: model } = PLAN.pages.find(({ key }) => key === 'emergency') ?? {};
      const rows = model?.sections.find(({ heading }) => heading === 'Say where you are')?.table?.rows ?? [];
      expect(rows.length).toBeGreaterThan(1);
      const table = page.getByRole('table', { name: 'Say where you are' });
      expect(await table.getByRole('row').count()).toBe(1 + rows.length);
      expect(await table.getByRole('rowheader', { name: 'top' }).count()).toBe(1);
      const before = `getComputedStyle(document.querySelector('.cards td'), '::before').content`;
      expect(await page.evaluate(before)).toBe('"Height"');
    });
  }, 60_000);
});
