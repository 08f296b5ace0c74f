import { mkdirSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { degrees, POINT, writeTiff } from './tiff-writer.ts';
import { planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const TILES = 200;
const dem = join(files.folder, 'many');
const indexFile = join(files.folder, 'cache', 'elevation-index.json');
mkdirSync(dem);
const tile = (i: number, heightM = i) =>
  writeTiff({
    ...planeTile(-30 + (i % 50) * 0.1, 46 - Math.floor(i / 50) * 0.1, 0.05, 2, 2),
    keys: { ...degrees(POINT), 4096: 5773 },
    value: () => heightM,
  });
const nameOf = (i: number) => join(dem, `tile${i}.tif`);
for (let i = 0; i < TILES; i += 1) writeFileSync(nameOf(i), tile(i));

/** How many headers were read, and what the set says. */
async function opened() {
  const read: string[] = [];
  const surface = await openSurface([dem], { indexFile, onHeader: (path) => read.push(path) });
  const { heightsM } = await surface.heightsAt([-29.975, -29.875], [45.975, 45.975]);
  return { read, sources: surface.sources, heightsM };
}

describe('the index of headers', () => {
  it('reads every header once, then none, and says the same', async () => {
    const first = await opened();
    const again = await opened();
    expect([first.read.length, again.read.length]).toEqual([TILES, 0]);
    expect(again.sources).toEqual(first.sources);
    expect(again.heightsM).toEqual([0, 1]);
  });

  it('reads again what changed, was added or has other settings, and nothing else', async () => {
    await opened();
    writeFileSync(nameOf(1), tile(1, 77));
    utimesSync(nameOf(1), new Date(), new Date(Date.now() + 5_000));
    const changed = await opened();
    expect(changed.read).toEqual([nameOf(1)]);
    expect(changed.heightsM).toEqual([0, 77]);
    rmSync(nameOf(TILES - 1));
    expect((await opened()).sources).toHaveLength(TILES - 1);
    writeFileSync(join(dem, 'krummholz-dem.json'), '{"licence": "CC0-1.0"}');
    expect((await opened()).read).toHaveLength(TILES - 1);
    rmSync(join(dem, 'krummholz-dem.json'));
  });

  it('is made anew, whole, where it is broken, cut short or of another format', async () => {
    await opened();
    const good = readFileSync(indexFile, 'utf8');
    for (const bad of ['', good.slice(0, 1000), '[]', '{"format": 999, "tiles": {}}']) {
      writeFileSync(indexFile, bad);
      expect((await opened()).read).toHaveLength(TILES - 1);
      expect((await opened()).read).toEqual([]);
    }
    expect(readdirSync(join(files.folder, 'cache'))).toEqual(['elevation-index.json']);
    expect(readdirSync(dem).filter((name) => !name.endsWith('.tif'))).toEqual([]);
  });

  it('is done without where it cannot be written', async () => {
    const nowhere = join(nameOf(0), 'index.json');
    const surface = await openSurface([dem], { indexFile: nowhere });
    expect(surface.sources).toHaveLength(TILES - 1);
  });
});
