import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { M_PER_FT } from '../../src/units.ts';
import { degrees, POINT, writeTiff } from './tiff-writer.ts';
import { DATA, planeM, planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const METRES = { ...degrees(POINT), 4096: 5773 };
const tiff = (perMetre: number, keys = degrees(POINT)) =>
  writeTiff({
    ...planeTile(-30.4, 46.3, 0.01, 9, 9),
    keys,
    value: (column, row) => planeM(-30.4 + column * 0.01, 46.3 - row * 0.01) * perMetre,
  });
function folder(name: string, tiles: Readonly<Record<string, Buffer>>, settings?: unknown): string {
  const path = join(files.folder, name);
  mkdirSync(path);
  for (const [file, bytes] of Object.entries(tiles)) writeFileSync(join(path, file), bytes);
  if (settings !== undefined) writeFileSync(join(path, 'krummholz-dem.json'), JSON.stringify(settings));
  return path;
}

describe('krummholz-dem.json beside tiles', () => {
  it('states what their headers leave open', async () => {
    const path = folder(
      'feet',
      { 'a.tif': tiff(1 / M_PER_FT) },
      {
        unit: 'ft',
        verticalReference: 'NAVD88',
        attribution: 'Marram Survey 2020',
        licence: 'CC-BY-4.0',
        date: '2020-05-31',
      },
    );
    const surface = await openSurface([path]);
    expect(surface.sources[0]).toMatchObject({
      unit: 'ft',
      unitAssumed: false,
      verticalReference: 'NAVD88',
      attribution: ['Marram Survey 2020'],
      licence: 'CC-BY-4.0',
      notes: [],
    });
    expect((await surface.heightsAt([-30.35], [46.25])).heightsM[0]).toBeCloseTo(planeM(-30.35, 46.25), 6);
    const named = await openSurface([join(path, 'a.tif')]);
    expect(named.sources[0]?.unit).toBe('ft');
  });

  it('does not overrule a header: the tile is refused', async () => {
    const path = folder('contradicts', { 'a.tif': tiff(1, METRES) }, { unit: 'ft' });
    await expect(openSurface([path])).rejects.toMatchObject({
      message: expect.stringMatching(/in m, and .*krummholz-dem\.json says ft.*\[dem-vertical-datum\]/),
    });
  });

  it('is refused with its place where it cannot be used', async () => {
    const tiles = { 'a.tif': tiff(1) };
    for (const [name, settings, why] of [
      ['typo', { units: 'm' }, /units/],
      ['yards', { unit: 'yd' }, /unit/],
      ['date', { date: '2020-13-01' }, /date/],
    ] as const) {
      await expect(openSurface([folder(name, tiles, settings)])).rejects.toMatchObject({
        code: 'bad-settings',
        message: expect.stringMatching(why),
        place: { file: expect.stringContaining('krummholz-dem.json') },
      });
    }
  });
});

describe('a tile that states no unit', () => {
  it('is refused where it is 3.28 times as high as the tile it overlaps', async () => {
    const path = folder('beside', { 'feet.tif': tiff(1 / M_PER_FT), 'metres.tif': tiff(1, METRES) });
    const surface = await openSurface([path]);
    expect(surface.sources.map((tile) => basename(tile.path))).toEqual(['metres.tif']);
    expect(surface.refused).toMatchObject([
      { code: 'dem-unit', reason: { values: expect.arrayContaining(['metres.tif']) } },
    ]);
  });

  it('is refused beside another folder’s tile too, whichever is named first', async () => {
    const feet = folder('f', { 'feet.tif': tiff(1 / M_PER_FT) });
    const plain = folder('p', { 'plain.tif': tiff(1) });
    for (const paths of [
      [feet, plain],
      [plain, feet],
    ]) {
      const surface = await openSurface(paths);
      expect(surface.sources.map((tile) => basename(tile.path))).toEqual(['plain.tif']);
    }
  });

  it('is refused beside a tile of its own folder that states none either, and the other is noted', async () => {
    const path = folder('silent', {
      'feet.tif': tiff(1 / M_PER_FT),
      'feet-too.tif': tiff(1 / M_PER_FT),
      'plain.tif': tiff(1),
    });
    const surface = await openSurface([path]);
    expect(surface.sources.map((tile) => [basename(tile.path), tile.notes.map(({ code }) => code)])).toEqual([
      ['plain.tif', ['dem-unit-assumed', 'dem-disagrees']],
    ]);
    expect(surface.refused.map(({ path: of, code }) => [basename(of), code])).toEqual([
      ['feet-too.tif', 'dem-unit'],
      ['feet.tif', 'dem-unit'],
    ]);
    expect(surface.refused[0]?.reason.values).toEqual(['plain.tif', 'neither states a unit']);
  });

  it('is not told from feet where all its folder is alike', async () => {
    const path = folder('alike', { 'a.tif': tiff(1 / M_PER_FT), 'b.tif': tiff(1 / M_PER_FT) });
    const { sources, refused } = await openSurface([path]);
    expect(refused).toEqual([]);
    for (const { notes } of sources) expect(notes.map(({ code }) => code)).toEqual(['dem-unit-assumed']);
  });

  it('is kept with a note where it differs otherwise, and without one where it agrees', async () => {
    const raised = writeTiff({ ...planeTile(-30.4, 46.3, 0.01, 9, 9), value: () => 1234 });
    const path = folder('raised', { 'a.tif': raised, 'metres.tif': tiff(1, METRES), 'same.tif': tiff(1) });
    const notes = (await openSurface([path])).sources.map((tile) => [
      basename(tile.path),
      tile.notes.map(({ code }) => code),
    ]);
    expect(notes).toEqual([
      ['metres.tif', []],
      ['a.tif', ['dem-unit-assumed', 'dem-disagrees']],
      ['same.tif', ['dem-unit-assumed']],
    ]);
  });

  it.skipIf(!existsSync(DATA))('is caught in real tiles (needs ../shared/data)', async () => {
    const surface = await openSurface([
      join(DATA, 'dem-variants/whites_f32_FEET_deflate.tif'),
      join(DATA, 'dem/N44W072.hgt'),
    ]);
    expect(surface.refused.map(({ code }) => code)).toEqual(['dem-unit']);
    expect(surface.sources).toHaveLength(1);
  });
});

describe('a publisher’s own file name', () => {
  it('tells unit, reference and the words of the licence; any other name tells nothing', async () => {
    const path = folder('named', {
      'Copernicus_DSM_COG_10_N46_00_W031_00_DEM.tif': tiff(1),
      'n46w031.tif': tiff(1),
    });
    const [known, unknown] = (await openSurface([path])).sources;
    expect(known).toMatchObject({ unit: 'm', unitAssumed: false, verticalReference: 'EGM2008' });
    expect(known?.attribution[0]).toMatch(/^produced using Copernicus WorldDEM-30 © DLR e\.V\. 2010-2014/);
    expect(unknown).toMatchObject({ unitAssumed: true, attribution: [], licence: null });
  });
});
