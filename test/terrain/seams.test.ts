import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { AREA, degrees, type TiffPlan } from './tiff-writer.ts';
import { planeM, planeTile, tileFolder } from './tile-folder.ts';

const STEP = 0.01;
const WEST = -30.4;
const NORTH = 46.3;
const files = tileFolder();

/** The same grid, written with cell corners instead of postings. */
function asArea(plan: TiffPlan): TiffPlan {
  const [, , , x = 0, y = 0] = plan.tiepoint ?? [];
  return { ...plan, tiepoint: [0, 0, 0, x - STEP / 2, y + STEP / 2, 0], keys: degrees(AREA) };
}

async function largestError(paths: readonly string[], lons: number[], lats: number[]): Promise<number> {
  const surface = await openSurface(paths);
  const { heightsM } = await surface.heightsAt(lons, lats);
  return Math.max(
    ...heightsM.map((height, i) =>
      height === null ? Number.POSITIVE_INFINITY : Math.abs(height - planeM(lons[i] ?? 0, lats[i] ?? 0)),
    ),
  );
}

/** Places on and about the meridian where two tiles meet. */
function acrossMeridian(lonDeg: number): [number[], number[]] {
  const lons: number[] = [];
  const lats: number[] = [];
  for (let i = 0; i <= 60; i += 1) {
    for (const off of [-1.5, -1, -0.7, -0.3, 0, 1e-12, 0.2, 0.5, 0.999, 1, 1.4]) {
      lons.push(lonDeg + off * STEP);
      lats.push(NORTH - 0.005 - i * 0.003);
    }
  }
  return [lons, lats];
}

describe('a plane in two tiles', () => {
  const east = (first: number) =>
    planeTile(WEST + first * STEP, NORTH, STEP, 20, 20, { compression: 8, rowsPerStrip: 7 });
  const west = planeTile(WEST, NORTH, STEP, 21, 20, { rowsPerStrip: 3 });
  const layouts: [string, number][] = [
    ['that share a column', 20],
    ['that overlap by two columns', 18],
    ['without overlap, one step apart', 21],
  ];
  for (const [title, first] of layouts) {
    it(`${title} has no seam`, async () => {
      const paths = [files.tile(west), files.tile(east(first))];
      const [lons, lats] = acrossMeridian(WEST + 20.5 * STEP);
      expect(await largestError(paths, lons, lats)).toBeLessThan(1e-6);
    });

    it(`${title} is the same with cell corners in the header`, async () => {
      const paths = [files.tile(asArea(west)), files.tile(asArea(east(first)))];
      const [lons, lats] = acrossMeridian(WEST + 20.5 * STEP);
      expect(await largestError(paths, lons, lats)).toBeLessThan(1e-6);
    });
  }

  it('of different steps, without overlap, has no seam', async () => {
    // As where the longitude step of a tile set widens with latitude.
    const north = planeTile(WEST, NORTH, STEP, 31, 10);
    const coarse: TiffPlan = {
      ...planeTile(WEST, NORTH - 10 * STEP, STEP, 21, 10),
      pixelScale: [1.5 * STEP, STEP, 0],
      value: (column, row) => planeM(WEST + column * 1.5 * STEP, NORTH - (10 + row) * STEP),
    };
    const lons = Array.from({ length: 200 }, (_, i) => WEST + (i / 200) * 30 * STEP);
    const lats = lons.map((_, i) => NORTH - (9 + (i % 10) / 10) * STEP);
    expect(await largestError([files.tile(north), files.tile(coarse)], lons, lats)).toBeLessThan(1e-6);
  });

  it('with collars of six cells, as USGS tiles have, has no seam', async () => {
    const collared = (column: number) =>
      planeTile(WEST + (column * 20 - 6) * STEP, NORTH + 6 * STEP, STEP, 32, 40, { compression: 8 });
    const [lons, lats] = acrossMeridian(WEST + 20 * STEP);
    expect(await largestError([files.tile(collared(0)), files.tile(collared(1))], lons, lats)).toBeLessThan(
      1e-6,
    );
  });

  it('is unknown in a gap of more than one step', async () => {
    const surface = await openSurface([files.tile(west), files.tile(east(22))]);
    const { heightsM, sourceIndexes } = await surface.heightsAt([WEST + 21 * STEP], [NORTH - 0.05]);
    expect([heightsM, sourceIndexes]).toEqual([[null], [null]]);
  });
});

describe('four tiles without overlap', () => {
  const corner = { lonDeg: WEST + 9.5 * STEP, latDeg: NORTH - 9.5 * STEP };
  const quarter = (column: number, row: number) =>
    files.tile(planeTile(WEST + column * 10 * STEP, NORTH - row * 10 * STEP, STEP, 10, 10));

  it('give the plane all about the corner where they meet', async () => {
    const paths = [quarter(0, 0), quarter(1, 0), quarter(0, 1), quarter(1, 1)];
    const offsets = [-0.6, -0.5, -0.2, 0, 0.3, 0.5, 0.8];
    const lons = offsets.flatMap((x) => offsets.map(() => corner.lonDeg + x * STEP));
    const lats = offsets.flatMap(() => offsets.map((y) => corner.latDeg + y * STEP));
    expect(await largestError(paths, lons, lats)).toBeLessThan(1e-6);
  });

  it('know nothing at the corner when one of them is missing', async () => {
    const surface = await openSurface([quarter(0, 0), quarter(1, 0), quarter(0, 1)]);
    const { heightsM } = await surface.heightsAt([corner.lonDeg], [corner.latDeg]);
    expect(heightsM).toEqual([null]);
  });

  it('that share their edge rows know the shared corner itself', async () => {
    const shared = (column: number, row: number) =>
      files.tile(planeTile(WEST + column * 9 * STEP, NORTH - row * 9 * STEP, STEP, 10, 10));
    const paths = [shared(0, 0), shared(1, 0), shared(0, 1), shared(1, 1)];
    expect(await largestError(paths, [WEST + 9 * STEP], [NORTH - 9 * STEP])).toBeLessThan(1e-9);
  });
});

describe('a surface across the antimeridian', () => {
  it('joins the tiles on both sides, for longitudes in any turn', async () => {
    const height = (column: number, row: number) => 100 + column - row;
    const plan = (lonDeg: number, shift: number): TiffPlan => ({
      ...planeTile(lonDeg, 46, STEP, 11, 11),
      value: (column, row) => height(column + shift, row),
    });
    const surface = await openSurface([files.tile(plan(179.9, 0)), files.tile(plan(-179.99, 11))]);
    const lons = [179.905, 179.995, 180.005, -179.995, 540.005, -180.005, -180.095];
    const { heightsM } = await surface.heightsAt(
      lons,
      lons.map(() => 45.95),
    );
    const expected = [95.5, 104.5, 105.5, 105.5, 105.5, 104.5, 95.5];
    heightsM.forEach((got, i) => {
      expect(got).toBeCloseTo(expected[i] ?? 0, 6);
    });
  });
});

describe('heightsAt', () => {
  it('gives the finest tile before a coarser one, and the coarser one where the finer is void', async () => {
    const coarse = files.tile({ ...planeTile(WEST, NORTH, STEP, 21, 21), value: () => 100 });
    const fine = files.tile({
      ...planeTile(WEST, NORTH, STEP / 2, 41, 41),
      value: (column) => (column >= 20 ? -9999 : 200),
    });
    const surface = await openSurface([coarse, fine]);
    expect(surface.sources.map(({ path }) => path)).toEqual([fine, coarse]);
    const { heightsM, sourceIndexes } = await surface.heightsAt(
      [WEST + 0.042, WEST + 0.142],
      [NORTH - 0.042, NORTH - 0.042],
    );
    expect(heightsM).toEqual([200, 100]);
    expect(sourceIndexes).toEqual([0, 1]);
  });

  it('answers the same for any order of the places and any size of the cache', async () => {
    const paths = [
      files.tile(planeTile(WEST, NORTH, STEP, 21, 20, { rowsPerStrip: 2 })),
      files.tile(planeTile(WEST + 0.21, NORTH, STEP, 20, 20, { rowsPerStrip: 5, compression: 8 })),
    ];
    const large = await openSurface(paths);
    const small = await openSurface(paths, { cacheBytes: 1000 });
    const none = await openSurface(paths, { cacheBytes: 0 });
    const place = fc.tuple(
      fc.double({ min: WEST - 0.02, max: WEST + 0.42, noNaN: true }),
      fc.double({ min: NORTH - 0.21, max: NORTH + 0.02, noNaN: true }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(place, { maxLength: 30 }), async (places) => {
        const ask = (surface: typeof large, of: readonly (readonly [number, number])[]) =>
          surface.heightsAt(
            of.map(([lon]) => lon),
            of.map(([, lat]) => lat),
          );
        const straight = await ask(large, places);
        const reversed = await ask(small, [...places].reverse());
        expect([...reversed.heightsM].reverse()).toEqual(straight.heightsM);
        expect((await ask(none, places)).heightsM).toEqual(straight.heightsM);
      }),
      { numRuns: 40 },
    );
  });

  it('refuses what is not a position, and lists of different length', async () => {
    const surface = await openSurface([files.tile(planeTile(WEST, NORTH, STEP, 5, 5))]);
    await expect(surface.heightsAt([Number.NaN], [46])).rejects.toThrow(RangeError);
    await expect(surface.heightsAt([1, 2], [46])).rejects.toThrow(RangeError);
  });

  it('answers nothing once closed', async () => {
    const surface = await openSurface([files.tile(planeTile(WEST, NORTH, STEP, 5, 5))]);
    await surface.close();
    await expect(surface.heightsAt([WEST], [NORTH])).rejects.toThrow(RangeError);
  });

  it('knows each posting of the outermost rows and columns, and nothing beyond them', async () => {
    const surface = await openSurface([files.tile(planeTile(WEST, NORTH, STEP, 5, 4))]);
    const lons = [WEST, WEST + 4 * STEP, WEST, WEST + 4 * STEP, WEST - 0.001, WEST + 4 * STEP + 0.001];
    const lats = [NORTH, NORTH, NORTH - 3 * STEP, NORTH - 3 * STEP, NORTH, NORTH];
    const { heightsM } = await surface.heightsAt(lons, lats);
    heightsM.slice(0, 4).forEach((height, i) => {
      expect(height).toBeCloseTo(planeM(lons[i] ?? 0, lats[i] ?? 0), 9);
    });
    expect(heightsM.slice(4)).toEqual([null, null]);
  });
});
