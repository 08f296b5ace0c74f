import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildApp } from '../../src/service.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { writeTiff } from '../terrain/tiff-writer.ts';
import { planeTile, tileFolder } from '../terrain/tile-folder.ts';
import { ask, eachService, PUBLIC_URL } from './service.ts';

const files = tileFolder();

describe('readiness', () => {
  const service = eachService();

  it('is degraded, by the number of tiles, once a tile is deleted under a running service', async () => {
    const tile = writeTiff(planeTile(-30.4, 46.3, 0.01, 9, 9));
    files.write('b.tif', writeTiff(planeTile(-30.2, 46.3, 0.01, 9, 9)));
    const path = files.write('a.tif', tile);
    const surface = await openSurface([path, join(files.folder, 'b.tif')], { cacheBytes: 0 });
    const app = await buildApp({ ...service, surface, publicUrl: PUBLIC_URL });
    const ready = async () => (await ask(app, { url: '/readyz' })).text;
    expect(await ready()).toBe('{"status":"ok","damagedTiles":0}');
    rmSync(path);
    const { heightsM } = await surface.heightsAt([-30.35, -30.15], [46.25, 46.25]);
    expect(heightsM[0]).toBe(null);
    expect(heightsM[1]).not.toBe(null);
    expect(await ready()).toBe('{"status":"degraded","damagedTiles":1}');
    await app.close();
    await surface.close();
  });
});
