import type { Page } from 'playwright-core';

/** A paper without its margins of 12 mm, CSS pixels (96 to an inch). */
const within = (widthMm: number, heightMm: number) => ({
  width: Math.floor(((widthMm - 24) / 25.4) * 96),
  height: Math.floor(((heightMm - 24) / 25.4) * 96),
});

const PAPERS = { A4: within(210, 297), Letter: within(215.9, 279.4) };

export type Paper = keyof typeof PAPERS;

/** Sheets of a PDF: each has one object of this type in it. */
export const sheetsOf = (pdf: Buffer): number =>
  (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length;

/** Rows, figures and list entries that a sheet would cut, laid out as columns of the size of the paper. */
const CUT = `((width, height) => {
  const main = document.querySelector('main');
  main.style.cssText = 'display:block;column-fill:auto;column-gap:40px;width:' + width + 'px;height:' + height + 'px;column-width:' + width + 'px';
  const left = main.getBoundingClientRect().left;
  const columnOf = (box) => Math.floor((box.left - left + 1) / (width + 40));
  return [...main.querySelectorAll('tr, li, figure, svg')].filter((element) => {
    const parts = [...element.getClientRects()].filter((box) => box.height > 0.5);
    return new Set(parts.map(columnOf)).size > 1;
  }).map((element) => element.tagName + ' ' + element.textContent.slice(0, 40));
})`;

/** What of a page, shown as for print, the end of a sheet would cut in two. The page is of no use after. */
export async function cutInPrint(page: Page, paper: Paper = 'A4'): Promise<string[]> {
  const size = PAPERS[paper];
  await page.setViewportSize(size);
  return page.evaluate<string[]>(`${CUT}(${size.width}, ${size.height})`);
}
