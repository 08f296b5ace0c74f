import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { readWhole } from '../support/read-tile.ts';
import { DATA, tileFolder } from './tile-folder.ts';

const DEM = join(DATA, 'dem');
const VARIANTS = join(DATA, 'dem-variants');
const files = tileFolder();

async function heights(surface: Surface, places: readonly (readonly [number, number])[]) {
  const lons = places.map(([lonDeg]) => lonDeg);
  const lats = places.map(([, latDeg]) => latDeg);
  return (await surface.heightsAt(lons, lats)).heightsM;
}

describe.skipIf(!existsSync(DATA))('real tiles (needs ../shared/data)', () => {
  it('agree with GDAL 3.6 at all 160 sampled places, voids included, to a millionth of a metre', async () => {
    // truth/dem-samples.csv: bilinear at pixel centres, equal to gdalwarp -r bilinear to 1e-9 m.
    const [head = '', ...lines] = readFileSync(join(DATA, 'truth/dem-samples.csv'), 'utf8')
      .trim()
      .split('\n');
    const names = head.trim().split(',');
    const rows = lines.map((line) => {
      const cells = line.trim().split(',');
      return Object.fromEntries(names.map((name, i) => [name, cells[i] ?? '']));
    });
    let answered = 0;
    for (const dem of new Set(rows.map((row) => row.dem ?? ''))) {
      const some = rows.filter((row) => row.dem === dem);
      const surface = await openSurface([join(DEM, dem)]);
      const got = await heights(
        surface,
        some.map((row) => [Number(row.lon), Number(row.lat)]),
      );
      some.forEach((row, i) => {
        const height = got[i] ?? null;
        if (row.bilinear === '' || row.note === 'void') expect(height).toBe(null);
        // The file gives four decimals.
        else expect(Math.abs((height ?? Number.NaN) - exact(row))).toBeLessThan(1e-6);
        answered += 1;
      });
    }
    expect(answered).toBe(160);
  });

  it('join without a seam along 123° W, where both tiles have the same column', async () => {
    const both = await openSurface([join(DEM, 'N49W123.tif'), join(DEM, 'N49W124.tif')]);
    const east = await openSurface([join(DEM, 'N49W123.tif')]);
    const west = await openSurface([join(DEM, 'N49W124.tif')]);
    const places = Array.from({ length: 2001 }, (_, i) => [-123, 49 + i / 2000] as const);
    const got = await heights(both, places);
    expect(got).toEqual(await heights(east, places));
    expect(got).toEqual(await heights(west, places));
    expect(got.filter((height) => height !== null).length).toBeGreaterThan(1500);
    const beside = await heights(
      both,
      places.map(([lon, lat]) => [lon + 1e-9, lat] as const),
    );
    got.forEach((height, i) => {
      const near = beside[i] ?? null;
      // Beside the column a void of the next one may count.
      if (height !== null && near !== null) expect(Math.abs(near - height)).toBeLessThan(0.01);
    });
  });

  it('give along 123° W, and across it, what a merged raster of the two gives', async () => {
    const [west, east] = await Promise.all(
      ['N49W124.tif', 'N49W123.tif'].map((name) => readWhole(join(DEM, name))),
    );
    if (west === undefined || east === undefined || 'code' in west || 'code' in east)
      throw new Error('refused');
    const side = west.tile.width;
    const merged = files.tile({
      width: 2 * side - 1,
      height: side,
      sample: 'int16',
      // The shared column once.
      value: (column, row) => {
        const [from, at] = column < side ? [west, column] : [east, column - side + 1];
        const height = from.heightsM[row * side + at] ?? Number.NaN;
        return Number.isNaN(height) ? -32768 : height;
      },
      tiepoint: [0, 0, 0, west.tile.x0, west.tile.y0, 0],
      pixelScale: [west.tile.dx, -west.tile.dy, 0],
      nodata: '-32768',
    });
    const places = Array.from({ length: 4000 }, (_, i) => {
      const latDeg = 49 + i / 4000;
      return [-123 + (i % 2) * 0.002 * Math.sin(i), latDeg] as const;
    });
    const whole = await heights(await openSurface([merged]), places);
    const both = await heights(
      await openSurface([join(DEM, 'N49W123.tif'), join(DEM, 'N49W124.tif')]),
      places,
    );
    let known = 0;
    both.forEach((height, i) => {
      const expected = whole[i] ?? null;
      if (height === null || expected === null) expect(height).toBe(expected);
      else expect(Math.abs(height - expected)).toBeLessThan(1e-6);
      if (height !== null) known += 1;
    });
    expect(known).toBeGreaterThan(3000);
  });

  it('put Mount Washington 0 to 45 m below its published height, as a local maximum', async () => {
    // 1,916.6 m: Natural Earth elevation points (CC0), in truth/summits.csv. SRTM 3″ reads low on summits.
    const surface = await openSurface([join(DEM, 'N44W072.hgt')]);
    const around: [number, number][] = [];
    for (let y = -20; y <= 20; y += 1)
      for (let x = -20; x <= 20; x += 1)
        if (Math.hypot(x, y) <= 20) around.push([-71.3033 + x * 1.9e-4, 44.2706 + y * 1.35e-4]);
    const top = Math.max(...(await heights(surface, around)).map((height) => height ?? 0));
    expect(1916.6 - top).toBeGreaterThanOrEqual(0);
    expect(1916.6 - top).toBeLessThanOrEqual(45);
    const ring = Array.from({ length: 72 }, (_, i): [number, number] => {
      const angle = (i / 72) * 2 * Math.PI;
      return [-71.3033 + 0.0075 * Math.cos(angle), 44.2706 + 0.0054 * Math.sin(angle)];
    });
    expect(Math.max(...(await heights(surface, ring)).map((height) => height ?? 0))).toBeLessThan(top);
  });

  describe('written in other ways', () => {
    const places = Array.from({ length: 3000 }, (_, i): [number, number] => [
      -71.749 + 0.597 * ((i * 0.6180339887) % 1),
      44.399 - 0.297 * ((i * 0.7548776662) % 1),
    ]);
    const SAME = [
      'whites_cog_i16_deflate_pred2_256.tif',
      'whites_f32_tiled128_deflate_pred3.tif',
      'whites_f64_tiled_zstd.tif',
      'whites_i16_bigtiff_none.tif',
      'whites_i16_none_bigendian.tif',
      'whites_i16_pixelisarea_deflate.tif',
      'whites_i16_strip1_packbits_bigendian.tif',
      'whites_i16_strip7_lzw_pred2.tif',
    ];
    for (const name of SAME) {
      it(`${name} gives the original's heights`, async () => {
        const original = await heights(await openSurface([join(DEM, 'N44W072.hgt')]), places);
        const got = await heights(await openSurface([join(VARIANTS, name)]), places);
        original.forEach((height, i) => {
          expect(Math.abs((got[i] ?? Number.NaN) - (height ?? Number.NaN))).toBeLessThan(1e-6);
        });
      });
    }

    it.each([
      ['whites_utm19n_90m_i16.tif', 'EPSG:32619'],
      ['whites_3857_i16_lzw.tif', 'EPSG:3857'],
    ])('%s lies where the original does, as near as resampling and rounding allow', async (name, crs) => {
      const original = await heights(await openSurface([join(DEM, 'N44W072.hgt')]), places);
      const surface = await openSurface([join(VARIANTS, name)]);
      expect(surface.sources[0]?.crs).toBe(crs);
      const got = await heights(surface, places);
      const off = original
        .flatMap((height, i) => (got[i] === null ? [] : [Math.abs((got[i] ?? 0) - (height ?? 0))]))
        .sort((a, b) => a - b);
      expect(off.length).toBeGreaterThan(0.95 * places.length);
      // Half a cell off would be some 15 m in the middle. GDAL reads the same to 1e-9 m: npm run truth:terrain.
      expect(off[Math.floor(off.length / 2)]).toBeLessThan(1.5);
      expect(off[Math.floor(off.length * 0.99)]).toBeLessThan(15);
    });

    it('feet without a unit are taken for metres, and the tile says so', async () => {
      const surface = await openSurface([join(VARIANTS, 'whites_f32_FEET_deflate.tif')]);
      expect(surface.sources[0]).toMatchObject({ unit: 'm', unitAssumed: true });
      expect(surface.sources[0]?.notes.map(({ code }) => code)).toContain('dem-unit-assumed');
      const original = await heights(await openSurface([join(DEM, 'N44W072.hgt')]), places);
      const got = await heights(surface, places);
      original.forEach((height, i) => {
        expect((got[i] ?? Number.NaN) * 0.3048).toBeCloseTo(height ?? Number.NaN, 2);
      });
    });

    it('the 3 × 3 tile is void at its void number', async () => {
      const surface = await openSurface([join(VARIANTS, 'nodata_3x3_f32.tif')]);
      const grid = [2, 1, 0].flatMap((lat) => [0, 1, 2].map((lon) => [lon, lat] as const));
      expect(await heights(surface, grid)).toEqual([2, 1, 0, 3, null, null, 4, null, null]);
    });

    it('the whole folder: every file is used or refused by name', async () => {
      const surface = await openSurface([VARIANTS]);
      expect(surface.refused.map((r) => [basename(r.path), r.code])).toEqual([
        ['TRUNCATED_N44W072.hgt', 'dem-unreadable'],
        // Beside the packed tile, which states metres.
        ['whites_f32_FEET_deflate.tif', 'dem-unit'],
      ]);
      expect(surface.sources.length + surface.refused.length).toBe(readdirSync(VARIANTS).length);
    });
  });

  it('cut short after their header keep what is left and say what is missing', async () => {
    const whole = readFileSync(join(DEM, 'N46E008.tif'));
    const path = files.write('N46E008.tif', whole.subarray(0, 1_500_000));
    const surface = await openSurface([path]);
    expect(surface.sources[0]?.notes.map(({ code }) => code)).toContain('dem-truncated');
    const places = [
      [8.5, 46.9],
      [8.5, 46.1],
    ] as const;
    const [north, south] = await heights(surface, places);
    const full = await heights(await openSurface([join(DEM, 'N46E008.tif')]), places);
    expect(north).toBe(full[0]);
    expect(south).toBe(null);
  });
});

/** The bilinear value of a row to full precision: the file rounds it to four decimals, its corners are whole metres. */
function exact(row: Readonly<Record<string, string>>): number {
  const cell = (degrees: number) => (degrees * 1200) % 1;
  const x = cell(Number(row.lon) + 360);
  const y = cell(90 - Number(row.lat));
  const [v00 = 0, v01 = 0, v10 = 0, v11 = 0] = [row.v00, row.v01, row.v10, row.v11].map(Number);
  const value = (v00 * (1 - x) + v01 * x) * (1 - y) + (v10 * (1 - x) + v11 * x) * y;
  expect(Math.abs(value - Number(row.bilinear))).toBeLessThanOrEqual(0.000051);
  return value;
}
