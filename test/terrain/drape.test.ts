import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { destination, geodesicM } from '../../src/earth/geodesic.ts';
import type { Track, TrackPoint } from '../../src/ingest/track.ts';
import { drape } from '../../src/terrain/drape.ts';
import { OFFSET_M, STATION_SPACING_M } from '../../src/terrain/elevated-track.ts';
import type { HeightSamples, Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { DATA, planeM, planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const STEP = 0.001;

const point = (
  lonDeg: number,
  latDeg: number,
  elevationM: number | null = null,
  timeMs: number | null = null,
): TrackPoint => ({
  lonDeg,
  latDeg,
  elevationM,
  timeMs,
});
const track = (...segments: TrackPoint[][]): Track => ({
  name: 'walk',
  segments,
  waypoints: [],
  attributes: null,
  notes: [],
});
const island = () => openSurface([files.tile(planeTile(-30.25, 46.15, STEP, 101, 101))]);
const place = fc.record({
  lonDeg: fc.double({ min: -30.24, max: -30.16, noNaN: true }),
  latDeg: fc.double({ min: 46.06, max: 46.14, noNaN: true }),
});
const line = fc
  .array(place, { minLength: 2, maxLength: 12 })
  .map((places) => places.map(({ lonDeg, latDeg }) => point(lonDeg, latDeg)))
  .filter((points) => points.every((p, i) => i === 0 || geodesicM(points[i - 1] ?? p, p) > 1));

describe('drape', () => {
  it('keeps the laws of stations on any line', async () => {
    const surface = await island();
    await fc.assert(
      fc.asyncProperty(line, line, async (first, second) => {
        const elevated = await drape(track(first, second), surface);
        const sum = (points: TrackPoint[]) =>
          points.reduce((total, p, i) => total + (i === 0 ? 0 : geodesicM(points[i - 1] ?? p, p)), 0);
        expect(elevated.lengthM).toBe(sum(first) + sum(second));
        expect(elevated.coverage).toBe(1);
        expect(elevated.sources.map(({ share }) => share)).toEqual([1]);
        const [a, b] = elevated.segments;
        expect(a?.distanceM[0]).toBe(0);
        expect(a?.distanceM.at(-1)).toBe(sum(first));
        expect(b?.distanceM[0]).toBe(sum(first));
        expect(b?.distanceM.at(-1)).toBe(elevated.lengthM);
        for (const { distanceM, lonDeg, latDeg, groundM, leftM, rightM } of elevated.segments) {
          for (const list of [lonDeg, latDeg, groundM, leftM, rightM])
            expect(list.length).toBe(distanceM.length);
          const steps = distanceM.slice(1).map((d, i) => d - (distanceM[i] ?? 0));
          expect(Math.min(...steps)).toBeGreaterThan(0);
          expect(Math.max(...steps)).toBeLessThanOrEqual(STATION_SPACING_M + 1e-6);
          expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(1e-6);
          groundM.forEach((height, i) => {
            expect(height).toBeCloseTo(planeM(lonDeg[i] ?? 0, latDeg[i] ?? 0), 6);
          });
        }
        expect([a?.lonDeg[0], a?.latDeg[0]]).toEqual([first[0]?.lonDeg, first[0]?.latDeg]);
        expect([a?.lonDeg.at(-1), a?.latDeg.at(-1)]).toEqual([first.at(-1)?.lonDeg, first.at(-1)?.latDeg]);
      }),
      { numRuns: 30 },
    );
  });

  it('takes the sideways heights ten metres left and right of the direction of travel', async () => {
    const surface = await island();
    const start = { lonDeg: -30.2, latDeg: 46.1 };
    for (const azimuth of [0, 37, 90, 200, 315]) {
      const end = destination(start, azimuth, 490);
      const { segments } = await drape(
        track([point(start.lonDeg, start.latDeg), point(end.lonDeg, end.latDeg)]),
        surface,
      );
      const [segment] = segments;
      const middle = destination(start, azimuth, 254.8);
      const left = destination(middle, azimuth - 90, OFFSET_M);
      const right = destination(middle, azimuth + 90, OFFSET_M);
      // 490 m in 25 steps of 19.6 m: station 13 stands at 254.8 m. The plane rises 3.6 to 3.9 mm a metre.
      expect(segment?.distanceM[13]).toBeCloseTo(254.8, 5);
      expect(segment?.leftM[13]).toBeCloseTo(planeM(left.lonDeg, left.latDeg), 3);
      expect(segment?.rightM[13]).toBeCloseTo(planeM(right.lonDeg, right.latDeg), 3);
    }
  });

  it('has sideways heights at the turning point of an out-and-back too', async () => {
    const there = point(-30.2, 46.105);
    const { segments } = await drape(track([point(-30.2, 46.1), there, point(-30.2, 46.1)]), await island());
    const [segment] = segments;
    const turn = Math.round((segment?.distanceM.length ?? 0) / 2) - 1;
    expect(segment?.latDeg[turn]).toBeCloseTo(there.latDeg, 6);
    const apart = Math.abs((segment?.leftM[turn] ?? 0) - (segment?.rightM[turn] ?? 0));
    // 20 m along the parallel on a plane of 300 m a degree of longitude (77.3 km at 46.1°).
    expect(apart).toBeCloseTo((20 / 77_333) * 300, 3);
  });

  it('interpolates recorded heights and times along the line, 0 included, and gives null beside a gap', async () => {
    const points = [
      point(-30.2, 46.1, 0, 0),
      point(-30.2, 46.101, 100, 60_000),
      point(-30.2, 46.102, null, null),
      point(-30.2, 46.103, 300, 180_000),
    ];
    const { segments } = await drape(track(points), await island());
    const [segment] = segments;
    expect(segment?.recordedM[0]).toBe(0);
    expect(segment?.timeMs[0]).toBe(0);
    expect(segment?.recordedM.at(-1)).toBe(300);
    segment?.distanceM.forEach((distanceM, i) => {
      const share = distanceM / 111.15;
      const recordedM = segment.recordedM[i] ?? null;
      if (share < 0.99) {
        expect(recordedM).toBeCloseTo(100 * share, 0);
        expect((segment.timeMs[i] ?? 0) / 60_000).toBeCloseTo(share, 2);
      } else if (share > 1.01 && share < 2.99) expect([recordedM, segment.timeMs[i]]).toEqual([null, null]);
    });
  });

  it('covers nothing outside the tiles, and the share of the length inside', async () => {
    const surface = await island();
    const outside = await drape(track([point(-30.1, 46.1), point(-30.09, 46.1)]), surface);
    expect([outside.coverage, outside.sources]).toEqual([0, []]);
    expect(outside.segments[0]?.groundM.every((height) => height === null)).toBe(true);
    // The tile ends at 30.15° W: half of the way.
    const half = await drape(track([point(-30.16, 46.1), point(-30.14, 46.1)]), surface);
    expect(half.coverage).toBeGreaterThan(0.47);
    expect(half.coverage).toBeLessThanOrEqual(0.5);
    expect(half.sources[0]?.share).toBeCloseTo(0.5, 1);
  });

  it('keeps unwrapped longitudes and asks the right tile for them', async () => {
    const surface = await openSurface([
      files.tile({ ...planeTile(-180, 46.15, STEP, 101, 101), value: () => 0 }),
    ]);
    const { segments, coverage } = await drape(track([point(180.01, 46.1), point(180.05, 46.12)]), surface);
    expect(coverage).toBe(1);
    expect(segments[0]?.lonDeg[0]).toBe(180.01);
  });

  it('asks the surface once for the line and both its sides', async () => {
    let calls = 0;
    const surface: Surface = {
      ...(await island()),
      heightsAt: async (lons): Promise<HeightSamples> => {
        calls += 1;
        const heightsM = Array.from(lons, () => 0);
        return { heightsM, sourceIndexes: heightsM };
      },
    };
    const { segments, coverage } = await drape(
      track([point(-30.2, 46.1), point(-30.2, 46.11)], [point(-30.2, 46.12), point(-30.2, 46.13)]),
      surface,
    );
    expect([calls, coverage]).toEqual([1, 1]);
    expect(segments[1]?.groundM.every((height) => height === 0)).toBe(true);
  });

  describe.skipIf(!existsSync(DATA))('over the voids of N46E008.tif (needs ../shared/data)', () => {
    it('covers part of a line, and each step it counts has ground at both ends', async () => {
      const surface = await openSurface([join(DATA, 'dem/N46E008.tif')]);
      const elevated = await drape(track([point(8.0, 46.58), point(8.3, 46.58)]), surface);
      expect(elevated.coverage).toBeGreaterThan(0.3);
      expect(elevated.coverage).toBeLessThan(0.99);
      const known = elevated.segments[0]?.groundM.filter((height) => height !== null).length ?? 0;
      const all = elevated.segments[0]?.groundM.length ?? 0;
      expect(elevated.coverage).toBeLessThanOrEqual(known / all);
      expect(elevated.sources[0]?.share).toBeCloseTo(known / all, 12);
    });
  });
});
