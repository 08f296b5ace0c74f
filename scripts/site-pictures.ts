import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { DEMO_DATE } from '../src/app/demo.ts';
import { readConfig } from '../src/config.ts';
import { startServer } from '../src/server.ts';
import { openPrintBrowser } from './print-browser.ts';
import { type SitePage, sitePages } from './site-pages.ts';

/** The day on which the pictures are taken. */
const NOW_MS = Date.UTC(2026, 6, 2, 12);
/** A picture is not longer than this, CSS pixels. */
const LONGEST_PX = 1500;
/** A4 without its margins, in CSS pixels (96 to an inch). */
const PAPER_PX = Math.round(((210 - 24) / 25.4) * 96);

const SIZES = [
  { name: 'desktop', width: 1280, media: 'screen' },
  { name: 'phone', width: 390, media: 'screen' },
  { name: 'print', width: PAPER_PX, media: 'print' },
] as const;

interface SitePicture {
  readonly name: string;
  readonly png: Uint8Array;
}

async function idsOf(url: string, list: string): Promise<ReadonlyMap<string, string>> {
  const answer = (await (await fetch(`${url}/v1/${list}?limit=100`)).json()) as Record<
    string,
    { id: string; name: string }[]
  >;
  return new Map((answer[list] ?? []).map(({ name, id }) => [name, id]));
}

async function pictures(browser: Browser, url: string, pages: readonly SitePage[]) {
  const taken: SitePicture[] = [];
  for (const size of SIZES) {
    const page = await browser.newPage({ viewport: { width: size.width, height: 900 } });
    await page.emulateMedia({ media: size.media });
    for (const { name, path } of pages) {
      await page.goto(`${url}${path}`);
      const height = Number(await page.evaluate('document.documentElement.scrollHeight'));
      const clip = { x: 0, y: 0, width: size.width, height: Math.min(height, LONGEST_PX) };
      taken.push({ name: `site-${name}-${size.name}`, png: await page.screenshot({ fullPage: true, clip }) });
    }
    await page.close();
  }
  return taken;
}

/** Every page of the service, before and after the invented range is loaded: on a desk, on a phone, on paper. */
export async function picturesOfSite(): Promise<SitePicture[]> {
  const folder = await mkdtemp(join(tmpdir(), 'krummholz-pictures-'));
  const config = {
    ...readConfig({ KRUMMHOLZ_LOG: 'silent', KRUMMHOLZ_PORT: '0' }),
    databaseFile: join(folder, 'site.db'),
    demPaths: ['data/demo/dem'],
  };
  const server = await startServer(config, { nowMs: () => NOW_MS });
  const { browser, close } = await openPrintBrowser();
  try {
    const { url } = server;
    const empty = await pictures(browser, url, [
      { name: 'first-visit', path: '/' },
      { name: 'season-first', path: '/season' },
    ]);
    await fetch(`${url}/demo`, {
      method: 'POST',
      redirect: 'manual',
      headers: { 'content-type': 'application/x-www-form-urlencoded', accept: 'text/html' },
    });
    const names = {
      cohorts: await idsOf(url, 'cohorts'),
      routes: await idsOf(url, 'routes'),
      date: DEMO_DATE,
    };
    const filled = await pictures(browser, url, sitePages(names));
    return [...empty, ...filled];
  } finally {
    await close();
    await server.close();
    await rm(folder, { recursive: true, force: true });
  }
}
