import { describe, expect, it } from 'vitest';
import { projectionOf } from '../../src/terrain/projection.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { POINT, type TiffPlan } from './tiff-writer.ts';
import { tileFolder } from './tile-folder.ts';

const files = tileFolder();
// The same plane at 72° W and 8° E, or it would leave the range of heights between them.
const planeM = (lonDeg: number, latDeg: number): number =>
  800 + 300 * (lonDeg - 80 * Math.round(lonDeg / 80) - 8) - 400 * (latDeg - 44);
const projected = (epsg: number): Record<number, number> => ({ 1024: 1, 1025: POINT, 3072: epsg });

/** A tile of the plane on a projected grid whose posting (0, 0) stands near the place given. */
function projectedTile(
  epsg: number,
  westDeg: number,
  northDeg: number,
  stepM: number,
  width: number,
  height: number,
): TiffPlan {
  const projection = projectionOf(epsg);
  if (projection === null) throw new RangeError(`EPSG:${epsg}`);
  const [x, y] = projection.forward(westDeg, northDeg).map((value) => Math.round(value / stepM) * stepM);
  return {
    width,
    height,
    sample: 'float64',
    value: (column, row) => planeM(...projection.inverse((x ?? 0) + column * stepM, (y ?? 0) - row * stepM)),
    tiepoint: [0, 0, 0, x ?? 0, y ?? 0, 0],
    pixelScale: [stepM, stepM, 0],
    keys: projected(epsg),
    nodata: '-9999',
  };
}

async function largestError(paths: readonly string[], places: readonly (readonly [number, number])[]) {
  const surface = await openSurface(paths);
  const { heightsM } = await surface.heightsAt(
    places.map(([lonDeg]) => lonDeg),
    places.map(([, latDeg]) => latDeg),
  );
  const off = places.map(([lonDeg, latDeg], i) =>
    Math.abs((heightsM[i] ?? Number.POSITIVE_INFINITY) - planeM(lonDeg, latDeg)),
  );
  return Math.max(...off);
}

describe('projectionOf', () => {
  // PROJ 9.1.1 through GDAL 3.6.2, OSRCoordinateTransformation from EPSG:4326.
  const PROJ: [number, [number, number], [number, number]][] = [
    [26919, [-71.3, 44.27], [316436.5062154403, 4904434.390514635]],
    [32619, [-71.3, 44.27], [316436.50621691055, 4904434.390633613]],
    [3857, [8.5, 46], [946215.6717428254, 5780349.220256354]],
    [3035, [8.5, 46], [4204667.868818073, 2544181.497385814]],
  ];
  it.each(PROJ)(
    'puts a place of EPSG:%i where PROJ does, to a millimetre, and back',
    (epsg, place, plane) => {
      const projection = projectionOf(epsg);
      const [x = 0, y = 0] = projection?.forward(...place) ?? [];
      expect(Math.hypot(x - plane[0], y - plane[1])).toBeLessThan(0.001);
      const [lonDeg = 0, latDeg = 0] = projection?.inverse(x, y) ?? [];
      expect(Math.hypot(lonDeg - place[0], latDeg - place[1])).toBeLessThan(1e-8);
    },
  );

  it('knows UTM on WGS 84, NAD83 and ETRS89, north and south, and no zone that is none', () => {
    for (const epsg of [32601, 32660, 32701, 32760, 26901, 26923, 25828, 25838])
      expect(projectionOf(epsg)).not.toBe(null);
    for (const epsg of [32600, 32661, 26924, 25827, 4326, 3347, 0, Number.NaN])
      expect(projectionOf(epsg)).toBe(null);
    expect(projectionOf(32719)?.forward(-69, -33)[1]).toBeGreaterThan(6_000_000);
  });
});

describe('a projected tile', () => {
  it.each([32619, 26919, 3857, 3035])('in EPSG:%i gives a plane in degrees', async (epsg) => {
    const [west, north] = epsg === 3035 ? [8, 46] : [-72, 44.5];
    const path = files.tile(projectedTile(epsg, west, north, 30, 200, 200));
    const places = Array.from({ length: 300 }, (_, i): [number, number] => [
      west + 0.02 + 0.03 * ((i * 0.618) % 1),
      north - 0.01 - 0.02 * ((i * 0.755) % 1),
    ]);
    expect(await largestError([path], places)).toBeLessThan(1e-3);
    const surface = await openSurface([path]);
    expect(surface.sources[0]).toMatchObject({ crs: `EPSG:${epsg}`, unit: 'm' });
    // Mercator's metres are short ones away from the equator.
    expect(surface.sources[0]?.postingM).toBeCloseTo(
      epsg === 3857 ? 30 * Math.cos((44.5 * Math.PI) / 180) : 30,
      0,
    );
  });

  it('knows nothing beyond its edge', async () => {
    const surface = await openSurface([files.tile(projectedTile(32619, -72, 44.5, 30, 50, 50))]);
    const { heightsM } = await surface.heightsAt([-72.01, -71.96, -72 + 0.005], [44.49, 44.49, 44.51]);
    expect(heightsM).toEqual([null, null, null]);
  });

  it('lies across ±180° like any other', async () => {
    const projection = projectionOf(32701);
    const [x = 0] = projection?.forward(179.99, -17) ?? [];
    const plan = { ...projectedTile(32701, -180, -17, 30, 100, 100), value: () => 77 };
    const surface = await openSurface([files.tile({ ...plan, tiepoint: [0, 0, 0, x, 8_120_000 - 1500, 0] })]);
    const source = surface.sources[0];
    expect((source?.eastDeg ?? 0) - (source?.westDeg ?? 0)).toBeLessThan(0.1);
    const latDeg = ((source?.southDeg ?? 0) + (source?.northDeg ?? 0)) / 2;
    const { heightsM } = await surface.heightsAt([180, -180, 179.999, -179.999], new Array(4).fill(latDeg));
    expect(heightsM).toEqual([77, 77, 77, 77]);
  });
});

describe('seams of projected tiles', () => {
  // Zones 18 and 19 meet at 72° W.
  const around = (step: number) =>
    Array.from({ length: 200 }, (_, i): [number, number] => [
      -72 + step * ((i % 20) - 10),
      44.48 - 0.02 * ((i * 0.618) % 1),
    ]);

  it('of two UTM zones that overlap at their edge have none', async () => {
    const west = projectedTile(32618, -72.05, 44.5, 10, 500, 700);
    const east = projectedTile(32619, -72.005, 44.5, 10, 500, 700);
    expect(await largestError([files.tile(west), files.tile(east)], around(1e-4))).toBeLessThan(1e-3);
  });

  it('of a UTM tile that ends within a tile in degrees have none', async () => {
    const utm = projectedTile(32619, -72.0, 44.5, 10, 300, 300);
    const degrees: TiffPlan = {
      width: 200,
      height: 200,
      sample: 'float64',
      value: (column, row) => planeM(-72.05 + column * 0.0005, 44.52 - row * 0.0005),
      tiepoint: [0, 0, 0, -72.05, 44.52, 0],
      pixelScale: [0.0005, 0.0005, 0],
      nodata: '-9999',
    };
    expect(await largestError([files.tile(utm), files.tile(degrees)], around(5e-5))).toBeLessThan(1e-3);
  });

  it('of two tiles of one zone without overlap have none', async () => {
    const projection = projectionOf(32619);
    const whole = projectedTile(32619, -72, 44.5, 30, 100, 100);
    const [, , , x = 0, y = 0] = whole.tiepoint ?? [];
    const half = (first: number): TiffPlan => ({
      ...whole,
      width: 50,
      value: (column, row) => whole.value(column + first, row),
      tiepoint: [0, 0, 0, x + first * 30, y, 0],
    });
    const places = Array.from({ length: 100 }, (_, i): [number, number] => {
      const [lonDeg = 0, latDeg = 0] = projection?.inverse(x + 1470 + (i % 10) * 3.3, y - 300 - i * 17) ?? [];
      return [lonDeg, latDeg];
    });
    expect(await largestError([files.tile(half(0)), files.tile(half(50))], places)).toBeLessThan(1e-3);
  });
});
