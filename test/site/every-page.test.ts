import Fastify from 'fastify';
import { expect, it } from 'vitest';
import { sitePages } from '../../scripts/site-pages.ts';
import { todayOf } from '../../src/app/context.ts';
import { cursors } from '../../src/http/cursor.ts';
import type { App } from '../../src/http/deps.ts';
import { HTML_TYPE } from '../../src/http/media.ts';
import { readAssets } from '../../src/site/assets.ts';
import { frames } from '../../src/site/frame.ts';
import { pageResources } from '../../src/site/index.ts';
import { eachService, PUBLIC_URL } from '../http/service.ts';

/** Answers a part of a page that stands already. */
const PARTS = ['/cohorts/:id/shortlist'];

const service = eachService();

/** The addresses under which pages are served, with a colon before what varies. */
function registered(): readonly string[] {
  const assets = readAssets();
  const app = Fastify();
  const found: string[] = [];
  app.addHook('onRoute', ({ method, url, config }) => {
    const { produces = [] } = (config ?? {}) as { readonly produces?: readonly string[] };
    if (method === 'GET' && produces.includes(HTML_TYPE)) found.push(url);
  });
  const deps = {
    context: service.context,
    cursors: cursors(service.store.secret),
    url: (path: string) => `${PUBLIC_URL}${path}`,
    frame: frames(assets, PUBLIC_URL, () => todayOf(service.context), { sources: [] }),
  };
  pageResources(app as unknown as App, deps, null, assets);
  return found;
}

const matches = (address: string, path: string): boolean => {
  const pieces = path.replace(/\?.*/, '').split('/');
  const wanted = address.split('/');
  return (
    wanted.length === pieces.length &&
    wanted.every((piece, i) => (piece.startsWith(':') ? pieces[i]?.includes('_') : piece === pieces[i]))
  );
};

it('holds the list of pages, which tests of access and pictures go by, to what is registered', () => {
  const named = (names: readonly string[], kind: string) => new Map(names.map((name) => [name, `${kind}_1`]));
  const paths = sitePages({
    cohorts: named(['Marram Seniors', 'Cranny Juniors'], 'co'),
    routes: named(['Two Knolls Round', 'Oakum Dome'], 'rt'),
    date: '2026-07-11',
  }).map(({ path }) => path);
  const addresses = registered();
  expect(addresses.length).toBeGreaterThan(15);
  const missing = addresses.filter(
    (address) => !PARTS.includes(address) && !paths.some((path) => matches(address, path)),
  );
  expect(missing).toEqual([]);
  const served = (path: string) => addresses.some((address) => matches(address, path));
  expect(paths.filter((path) => !served(path))).toEqual(['/nowhere']);
});
