import type { PageKey } from '../src/document/plan-document.ts';
import { openPrintBrowser } from './print-browser.ts';

/** A4 without its margins, in CSS pixels (96 to an inch). */
const WIDTH_PX = Math.round(((210 - 24) / 25.4) * 96);

export interface PagePicture {
  readonly key: PageKey;
  readonly png: Uint8Array;
}

/** Pages of a plan as they are printed, as PNGs: as wide as A4 paper, each as long as it is. */
export async function picturesOfPages(html: string, keys: readonly PageKey[]): Promise<PagePicture[]> {
  const { browser, close } = await openPrintBrowser();
  try {
    const page = await browser.newPage({ viewport: { width: WIDTH_PX, height: 1000 } });
    await page.emulateMedia({ media: 'print' });
    await page.setContent(html);
    const pictures: PagePicture[] = [];
    for (const key of keys) pictures.push({ key, png: await page.locator(`#${key}`).screenshot() });
    return pictures;
  } finally {
    await close();
  }
}
