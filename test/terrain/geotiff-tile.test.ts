import { rmSync, truncateSync, writeFileSync } from 'node:fs';
import { writeArrayBuffer } from 'geotiff';
import { describe, expect, it } from 'vitest';
import type { ErrorCode } from '../../src/errors.ts';
import { openGeotiffTile } from '../../src/terrain/geotiff-tile.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { AREA, degrees, POINT, type TiffPlan, writeTiff } from './tiff-writer.ts';
import { planeM, planeTile, tileFolder } from './tile-folder.ts';

const WEST = -30.4;
const NORTH = 46.3;
const STEP = 0.01;
const files = tileFolder();
const plan = (more: Partial<TiffPlan> = {}): TiffPlan => planeTile(WEST, NORTH, STEP, 6, 5, more);

/** Height of the posting in a column of the first row. */
async function posting(path: string, column: number, row = 0): Promise<number | null> {
  const surface = await openSurface([path]);
  const { heightsM } = await surface.heightsAt([WEST + column * STEP], [NORTH - row * STEP]);
  return heightsM[0] ?? null;
}

describe('where a GeoTIFF lies', () => {
  it('reads a tiepoint that is not at posting (0, 0)', async () => {
    const path = files.tile(plan({ tiepoint: [2, 1, 0, WEST + 2 * STEP, NORTH - STEP, 0] }));
    expect(await posting(path, 0)).toBeCloseTo(planeM(WEST, NORTH), 9);
  });

  it('takes a header without raster type for cell corners', async () => {
    const keys = { 1024: 2, 2048: 4326 };
    const path = files.tile(plan({ tiepoint: [0, 0, 0, WEST - STEP / 2, NORTH + STEP / 2, 0], keys }));
    expect(await posting(path, 0)).toBeCloseTo(planeM(WEST, NORTH), 9);
  });

  it('reads an unrotated transformation, of points and of areas, north-up and south-up', async () => {
    const { tiepoint: _t, pixelScale: _p, ...bare } = plan();
    const matrix = (x: number, y: number, dy: number) => [STEP, 0, 0, x, 0, dy, 0, y, 0, 0, 0, 0, 0, 0, 0, 1];
    const point = files.tile({ ...bare, transformation: matrix(WEST, NORTH, -STEP) });
    const area = files.tile({
      ...bare,
      transformation: matrix(WEST - STEP / 2, NORTH + STEP / 2, -STEP),
      keys: degrees(AREA),
    });
    const southUp = files.tile({
      ...bare,
      value: (column, row) => planeM(WEST + column * STEP, NORTH - (4 - row) * STEP),
      transformation: matrix(WEST, NORTH - 4 * STEP, STEP),
    });
    for (const path of [point, area, southUp])
      expect(await posting(path, 3, 1)).toBeCloseTo(planeM(WEST + 3 * STEP, NORTH - STEP), 9);
  });

  it('describes itself by its outermost postings', async () => {
    const { info } = await openGeotiffTile(files.tile(plan({ keys: degrees(POINT, 4269) })));
    expect(info).toMatchObject({ format: 'geotiff', crs: 'EPSG:4269', columns: 6, rows: 5, nodata: -9999 });
    expect(info.westDeg).toBeCloseTo(WEST, 9);
    expect(info.eastDeg).toBeCloseTo(WEST + 5 * STEP, 9);
    expect(info.northDeg).toBeCloseTo(NORTH, 9);
    expect(info.southDeg).toBeCloseTo(NORTH - 4 * STEP, 9);
    // A degree of latitude at 46° is 111.15 km, longer than one of longitude there.
    expect(info.postingM).toBeCloseTo(1111.5, 0);
  });
});

describe('heights of a GeoTIFF', () => {
  it('are void where the file says so, in every kind of sample', async () => {
    for (const sample of ['int16', 'float32', 'float64'] as const) {
      const path = files.tile(
        plan({ sample, nodata: '-9999', value: (column) => (column === 1 ? -9999 : 0) }),
      );
      expect(await posting(path, 1)).toBe(null);
      expect(await posting(path, 0)).toBe(0);
    }
  });

  it('are void where the stored float is the nearest to the void number in the text', async () => {
    const path = files.tile(plan({ sample: 'float32', nodata: '0.1', value: (c) => (c === 1 ? 0.1 : 5) }));
    expect(await posting(path, 1)).toBe(null);
    expect(await posting(path, 0)).toBe(5);
  });

  it('are void where they are not numbers, with a void number of nan or another', async () => {
    for (const nodata of ['nan', '-9999', '-3.4028234663852886e+38']) {
      const value = (column: number) =>
        [Number.NaN, Number.POSITIVE_INFINITY, -3.4028234663852886e38, 7][column] ?? 1;
      const path = files.tile(plan({ sample: 'float32', nodata, value }));
      for (const column of [0, 1, 2]) expect(await posting(path, column)).toBe(null);
      expect(await posting(path, 3)).toBe(7);
    }
  });

  it('are void at the usual numbers, with a note, where the file names none', async () => {
    const { nodata: _n, ...bare } = plan({ value: (c) => [-32768, -9999, -999999, -501, 9001, 0][c] ?? 0 });
    const path = files.tile(bare);
    for (const column of [0, 1, 2, 3, 4]) expect(await posting(path, column)).toBe(null);
    expect(await posting(path, 5)).toBe(0);
    const { info } = await openGeotiffTile(path);
    expect(info.nodata).toBe(null);
    expect(info.notes.map(({ code }) => code)).toContain('dem-nodata-undeclared');
  });

  it('make every place void that a void posting has weight in, and no other', async () => {
    const path = files.tile(plan({ value: (c, r) => (c === 2 && r === 2 ? -9999 : 100) }));
    const surface = await openSurface([path]);
    const at = (c: number, r: number) => [WEST + c * STEP, NORTH - r * STEP] as const;
    const places = [at(1.5, 1.5), at(2.5, 2.5), at(2, 1.01), at(1, 1), at(1, 2), at(3, 2.5), at(2, 1)];
    const { heightsM } = await surface.heightsAt(
      places.map(([lon]) => lon),
      places.map(([, lat]) => lat),
    );
    expect(heightsM).toEqual([null, null, null, 100, 100, 100, 100]);
  });

  it('have scale and offset applied, after the void number is told', async () => {
    const metadata =
      '<GDALMetadata><Item name="SCALE" sample="0" role="scale">0.1</Item><Item name="OFFSET" sample="0" role="offset">500</Item></GDALMetadata>';
    const path = files.tile(
      plan({ sample: 'int16', metadata, value: (c) => [-9999, 0, 1234, -1000][c] ?? 0 }),
    );
    expect(await posting(path, 0)).toBe(null);
    expect(await posting(path, 1)).toBe(500);
    expect(await posting(path, 2)).toBeCloseTo(623.4, 9);
    expect(await posting(path, 3)).toBeCloseTo(400, 9);
  });

  it('are void in strips that were never written', async () => {
    const { nodata: _n, ...bare } = plan({ rowsPerStrip: 1, sparse: (strip) => strip === 1 });
    const path = files.tile(bare);
    expect(await posting(path, 0, 1)).toBe(null);
    expect(await posting(path, 0, 2)).toBeCloseTo(planeM(WEST, NORTH - 2 * STEP), 9);
  });

  it('are the same from big-endian files, whose table of many strips the context misreads when lazy', async () => {
    for (const sample of ['int16', 'float32', 'float64'] as const) {
      const wide = planeTile(WEST, NORTH, STEP, 4, 400, {
        sample,
        rowsPerStrip: 1,
        littleEndian: false,
        value: (column, row) => column + row,
      });
      expect(await posting(files.tile(wide), 2, 333)).toBe(335);
    }
  });

  it('are the same from a file that the context itself wrote', async () => {
    const values = Float32Array.from({ length: 30 }, (_, i) => i);
    const bytes = writeArrayBuffer(values, {
      width: 6,
      height: 5,
      ModelTiepoint: [0, 0, 0, WEST, NORTH, 0],
      ModelPixelScale: [STEP, STEP, 0],
      GeographicTypeGeoKey: 4326,
      GTModelTypeGeoKey: 2,
      GTRasterTypeGeoKey: 2,
    });
    expect(await posting(files.write('library.tif', new Uint8Array(bytes)), 4, 3)).toBe(22);
  });
});

describe('the unit of heights', () => {
  const info = async (more: Partial<TiffPlan>) => (await openGeotiffTile(files.tile(plan(more)))).info;
  const unitItem = (unit: string) =>
    `<GDALMetadata><Item name="UNITTYPE" sample="0" role="unittype">${unit}</Item></GDALMetadata>`;

  it('is assumed to be metres, with a note, where nothing is said', async () => {
    const found = await info({});
    expect(found).toMatchObject({ unit: 'm', unitAssumed: true, verticalReference: null });
    expect(found.notes.map(({ code }) => code)).toEqual(['dem-unit-assumed']);
  });

  it('is read from the unit key, the vertical system or the band', async () => {
    const keys = (more: Record<number, number>) => ({ keys: { ...degrees(POINT), ...more } });
    expect(await info(keys({ 4099: 9002 }))).toMatchObject({ unit: 'ft', unitAssumed: false, notes: [] });
    expect(await info(keys({ 4096: 5703 }))).toMatchObject({ unit: 'm', verticalReference: 'NAVD88' });
    expect(await info(keys({ 4096: 6360 }))).toMatchObject({ unit: 'ftUS', verticalReference: 'NAVD88' });
    expect(await info(keys({ 4096: 3855 }))).toMatchObject({ unit: 'm', verticalReference: 'EGM2008' });
    expect(await info({ metadata: unitItem('US survey foot') })).toMatchObject({ unit: 'ftUS' });
    expect(await info({ metadata: unitItem('metre') })).toMatchObject({ unit: 'm', unitAssumed: false });
  });

  it('turns feet into metres', async () => {
    const value = () => 1000;
    // Exact: 1 ft = 0.3048 m; 1 US survey foot = 1200/3937 m.
    const ft = files.tile(plan({ value, keys: { ...degrees(POINT), 4099: 9002 } }));
    const ftUS = files.tile(plan({ value, keys: { ...degrees(POINT), 4096: 6360 } }));
    expect(await posting(ft, 1)).toBeCloseTo(304.8, 9);
    expect(await posting(ftUS, 1)).toBeCloseTo(304.8006096, 7);
  });
});

describe('a GeoTIFF is refused by name', () => {
  const { tiepoint: _t, pixelScale: _p, ...placeless } = plan();
  const keys = (more: Record<number, number>) => ({ ...degrees(POINT), ...more });
  const meta = (name: string, text: string) =>
    `<GDALMetadata><Item name="${name}" sample="0">${text}</Item></GDALMetadata>`;
  const cases: [string, ErrorCode, RegExp, TiffPlan][] = [
    [
      'in a projection that is not read',
      'dem-crs',
      /EPSG:3347.*gdalwarp/,
      plan({ keys: { 1024: 1, 1025: 1, 3072: 3347 } }),
    ],
    [
      'in a projection of its own making',
      'dem-crs',
      /EPSG:32767/,
      plan({ keys: { 1024: 1, 1025: 1, 3072: 32767 } }),
    ],
    [
      'in a projection in feet',
      'dem-crs',
      /contradicts its system/,
      plan({ keys: { 1024: 1, 1025: 1, 3072: 32619, 3076: 9003 } }),
    ],
    [
      'where its projection does not reach',
      'dem-georeference',
      /does not reach/,
      plan({ keys: { 1024: 1, 1025: 1, 3072: 3035 }, tiepoint: [0, 0, 0, 9e7, 9e7, 0] }),
    ],
    ['without a system', 'dem-crs', /names no coordinate system/, plan({ keys: { 1025: 2 } })],
    ['of another datum', 'dem-crs', /EPSG:4267/, plan({ keys: degrees(POINT, 4267) })],
    ['in grads', 'dem-crs', /degrees/, plan({ keys: keys({ 2054: 9105 }) })],
    ['in three dimensions', 'dem-vertical-datum', /ellipsoid/, plan({ keys: degrees(POINT, 4979) })],
    ['above the ellipsoid', 'dem-vertical-datum', /ellipsoid/, plan({ keys: keys({ 4096: 5030 }) })],
    ['of depths', 'dem-vertical-datum', /depths/, plan({ keys: keys({ 4096: 5715 }) })],
    ['in fathoms', 'dem-vertical-datum', /EPSG:9014/, plan({ keys: keys({ 4099: 9014 }) })],
    ['with a band unit of cm', 'dem-vertical-datum', /"cm"/, plan({ metadata: meta('UNITTYPE', 'cm') })],
    [
      'with units that contradict each other',
      'dem-vertical-datum',
      /contradicts/,
      plan({ keys: keys({ 4099: 9001 }), metadata: meta('UNITTYPE', 'ft') }),
    ],
    [
      'rotated',
      'dem-georeference',
      /rotated/,
      {
        ...placeless,
        transformation: [STEP, 0.001, 0, WEST, 0.001, -STEP, 0, NORTH, 0, 0, 0, 0, 0, 0, 0, 1],
      },
    ],
    [
      'placed by control points only',
      'dem-georeference',
      /control points/,
      { ...placeless, tiepoint: [0, 0, 0, WEST, NORTH, 0, 5, 4, 0, WEST + 0.05, NORTH - 0.04, 0] },
    ],
    [
      'with several tiepoints',
      'dem-georeference',
      /2 tiepoints/,
      plan({ tiepoint: [0, 0, 0, WEST, NORTH, 0, 5, 4, 0, WEST + 0.05, NORTH - 0.04, 0] }),
    ],
    ['without a place', 'dem-georeference', /does not say where/, placeless],
    ['off the globe', 'dem-georeference', /not on the globe/, plan({ tiepoint: [0, 0, 0, WEST, 4630, 0] })],
    ['with two bands', 'dem-unreadable', /2 bands/, plan({ bands: 2 })],
    ['in colours', 'dem-unreadable', /picture/, plan({ bands: 3, sample: 'uint8', photometric: 2 })],
    ['of 8 bits', 'dem-unreadable', /8 bits/, plan({ sample: 'uint8' })],
    [
      'of absurd size',
      'dem-unreadable',
      /2147483648 × 2147483648/,
      plan({ claim: { width: 2 ** 31, height: 2 ** 31 } }),
    ],
    [
      'with a short table of blocks',
      'dem-unreadable',
      /table of blocks/,
      plan({ rowsPerStrip: 2, claim: { width: 6, height: 500 } }),
    ],
    ['of another compression', 'dem-unreadable', /compression \(7\)/, plan({ compression: 7 })],
    [
      'of whole numbers with the predictor of floats',
      'dem-unreadable',
      /predictor \(3\)/,
      plan({ sample: 'int16', predictor: 3, compression: 8 }),
    ],
    ['with its voids in a mask', 'dem-unreadable', /mask/, plan({ secondSubfileType: 4 })],
    ['whose first image is an overview', 'dem-unreadable', /overview/, plan({ newSubfileType: 1 })],
    ['with a scale of 0', 'dem-unreadable', /scale/, plan({ metadata: meta('SCALE', '0') })],
    ['with a scale that is no number', 'dem-unreadable', /scale/, plan({ metadata: meta('SCALE', 'ten') })],
  ];
  for (const [title, code, message, refused] of cases) {
    it(`${title}: ${code}`, async () => {
      const path = files.tile(refused);
      await expect(openGeotiffTile(path)).rejects.toMatchObject({
        code,
        message: expect.stringMatching(message),
      });
    });
  }

  it('when it is not a TIFF, empty, or cut off in its header: dem-unreadable', async () => {
    const whole = writeTiff(plan());
    const bad = {
      'text.tif': Buffer.from('hello'),
      'empty.tif': Buffer.alloc(0),
      'short.tif': whole.subarray(0, 6),
      'cut.tif': whole.subarray(0, whole.length - 60),
    };
    for (const [name, bytes] of Object.entries(bad))
      await expect(openGeotiffTile(files.write(name, bytes))).rejects.toMatchObject({
        code: 'dem-unreadable',
      });
  });

  it('when none of its blocks can be decoded: dem-unreadable', async () => {
    const bytes = writeTiff(plan({ compression: 8 }));
    bytes.fill(0x55, 8, 40);
    await expect(openGeotiffTile(files.write('noise.tif', bytes))).rejects.toMatchObject({
      code: 'dem-unreadable',
      message: expect.stringMatching(/none of its blocks/),
    });
  });
});

describe('a GeoTIFF with a bad block', () => {
  it('is void there, says so once, and is whole elsewhere', async () => {
    const bytes = writeTiff(plan({ compression: 8, rowsPerStrip: 1 }));
    const { info } = await openGeotiffTile(files.write('whole.tif', bytes));
    expect(info.notes.map(({ code }) => code)).toEqual(['dem-unit-assumed']);
    // The second strip starts after the first; a broken checksum or stream is enough.
    const second = bytes.indexOf(Buffer.from([0x78, 0x9c]), 10);
    bytes.fill(0xff, second + 2, second + 12);
    const surface = await openSurface([files.write('bad.tif', bytes)]);
    const lons = [WEST, WEST, WEST, WEST];
    const { heightsM } = await surface.heightsAt(
      lons,
      [0, 0.5, 1, 2].map((row) => NORTH - row * STEP),
    );
    expect(heightsM[0]).toBeCloseTo(planeM(WEST, NORTH), 9);
    expect(heightsM.slice(1, 3)).toEqual([null, null]);
    expect(heightsM[3]).toBeCloseTo(planeM(WEST, NORTH - 2 * STEP), 9);
    await surface.heightsAt([WEST], [NORTH - STEP]);
    expect(surface.sources[0]?.notes.map(({ code }) => code)).toEqual([
      'dem-unit-assumed',
      'dem-block-unreadable',
    ]);
    expect(await surface.voidShare(0)).toBeCloseTo(1 / 5, 9);
  });

  it('stays void while the file has changed underneath, and is whole once opened again', async () => {
    const bytes = writeTiff(plan());
    const path = files.write('replaced.tif', bytes);
    const surface = await openSurface([path]);
    truncateSync(path, 20);
    expect((await surface.heightsAt([WEST], [NORTH])).heightsM).toEqual([null]);
    writeFileSync(path, bytes);
    // A file that changed under an open surface stays void: its header may not be the one that was read.
    expect((await surface.heightsAt([WEST], [NORTH])).heightsM).toEqual([null]);
    const again = await openSurface([path]);
    expect((await again.heightsAt([WEST], [NORTH])).heightsM[0]).toBeCloseTo(planeM(WEST, NORTH), 9);
  });

  it('is void once the file is taken away under an open surface', async () => {
    const path = files.write('removed.tif', writeTiff(plan()));
    const surface = await openSurface([path]);
    rmSync(path);
    expect((await surface.heightsAt([WEST], [NORTH])).heightsM).toEqual([null]);
    expect(surface.sources[0]?.notes.map(({ code }) => code)).toContain('dem-block-unreadable');
  });
});
