import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import { type Context, openContext } from '../../src/app/context.ts';
import { addRoutes } from '../../src/app/routes.ts';
import { DESIGN } from '../../src/design.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { NOW_MS, wayUp } from '../http/service.ts';
import { bytesOf } from '../ingest/samples.ts';
import { writeMountain } from './mountain.ts';
import { tempFolder } from './temp-folder.ts';

/** What the use cases take, on a real tile; a fresh store for each test. */
export interface At {
  context: Context;
  store: Store;
  surface: Surface;
  databaseFile: string;
  readonly folder: string;
}

export function eachContext(): At {
  const at = { folder: tempFolder() } as At;
  let made = 0;
  beforeAll(async () => {
    writeMountain(join(at.folder, 'mountain.tif'));
    at.surface = await openSurface([join(at.folder, 'mountain.tif')]);
  });
  beforeEach(() => {
    made += 1;
    at.databaseFile = join(at.folder, `store-${made}.db`);
    at.store = openStore(at.databaseFile);
    const ground = { surface: at.surface, design: DESIGN };
    at.context = openContext({ store: at.store, ground, nowMs: () => NOW_MS });
  });
  afterEach(() => at.store.close());
  afterAll(() => at.surface.close());
  return at;
}

export const sentRoute = (body = wayUp()) => ({ bytes: bytesOf(body) });

export async function oneRoute(context: Context, body = wayUp()) {
  const { routes } = await addRoutes(context, [sentRoute(body)]);
  const [route] = routes;
  if (route === undefined) throw new Error('no route');
  return route;
}
