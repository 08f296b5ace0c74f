import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openContext } from '../../src/app/context.ts';
import { DEMO_DATE, loadDemo } from '../../src/app/demo.ts';
import { readRouteFiles } from '../../src/app/files.ts';
import { addRoutes } from '../../src/app/routes.ts';
import { DESIGN } from '../../src/design.ts';
import type { App } from '../../src/http/deps.ts';
import { buildApp } from '../../src/service.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { ask, NOW_MS, PUBLIC_URL } from '../http/service.ts';
import { tempFolder } from '../support/temp-folder.ts';

const MOST_BYTES = 100_000;

let surface: Surface;
let store: Store;
let app: App;
let cohorts: readonly string[];

/** The demo's routes, each also under two other names: what people state of routes is what weighs. */
beforeAll(async () => {
  surface = await openSurface(['data/demo/dem']);
  store = openStore(join(tempFolder(), 'weight.db'));
  const context = openContext({ store, ground: { surface, design: DESIGN }, nowMs: () => NOW_MS });
  cohorts = await loadDemo(context, 'data/demo');
  for (const file of await readRouteFiles(['data/demo/routes'])) {
    for (const of of ['East', 'West'])
      await addRoutes(context, [{ ...file, name: `${file.attributes?.name ?? file.path} ${of}` }]);
  }
  app = await buildApp({ context, store, surface, publicUrl: PUBLIC_URL });
}, 60_000);

afterAll(async () => {
  await app.close();
  await store.close();
  await surface.close();
});

/** HTML, style and script together; drawings are not counted. */
async function bytesOf(path: string): Promise<number> {
  const { text } = await ask(app, { url: path });
  const files = [...text.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map(([, file = '']) => file);
  const parts = await Promise.all(files.map(async (url) => (await ask(app, { url })).text));
  const html = text.replace(/<svg.*?<\/svg>/gs, '');
  return [html, ...parts].reduce((sum, part) => sum + Buffer.byteLength(part), 0);
}

it('pages full of routes of which everything is stated weigh under 100 kB with style and script', async () => {
  const routes = await store.routes.named();
  expect(routes).toHaveLength(66);
  const id = routes[0]?.id ?? '';
  const weights = new Map<string, number>();
  for (const cohort of cohorts) {
    const query = `date=${DEMO_DATE}`;
    for (const path of [
      `/cohorts/${cohort}?${query}`,
      `/cohorts/${cohort}?${query}&page=2`,
      `/cohorts/${cohort}?${query}&deadline=13:00&seats1=4`,
      `/cohorts/${cohort}?${query}&sort=-stormWindow`,
      `/cohorts/${cohort}/routes/${id}?${query}`,
      `/cohorts/${cohort}/routes/${id}/plan?${query}`,
      `/cohorts/${cohort}/training?${query}&route=${id}`,
      `/cohorts/${cohort}/outings`,
    ])
      weights.set(path, await bytesOf(path));
  }
  for (const path of ['/', '/routes', '/routes/map', '/season', `/routes/${id}/edit`])
    weights.set(path, await bytesOf(path));
  expect([...weights].filter(([, bytes]) => bytes >= MOST_BYTES)).toEqual([]);
  const { text } = await ask(app, { url: `/cohorts/${cohorts[1]}?date=${DEMO_DATE}` });
  expect(text.match(/<tbody/g)).toHaveLength(30);
});
