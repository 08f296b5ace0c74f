import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Track, TrackPoint } from '../../src/ingest/track.ts';
import { drape } from '../../src/terrain/drape.ts';
import { recordedHeightNotes } from '../../src/terrain/recorded-heights.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { DATA, planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const STEP = 0.001;

/** A slope from 400 m to 1,400 m over 5.5 km northwards, or ground at a constant height. */
const slopeM = (latDeg: number) => 400 + (latDeg - 46.1) * 20_000;
const terrain = (heightM: (latDeg: number) => number): Promise<Surface> =>
  openSurface([
    files.tile({
      ...planeTile(-30.25, 46.16, STEP, 101, 71),
      value: (_column, row) => heightM(46.16 - row * STEP),
    }),
  ]);

async function codes(
  surface: Surface,
  recorded: (groundM: number, i: number) => number | null,
  groundM: (latDeg: number) => number = slopeM,
): Promise<string[]> {
  const points: TrackPoint[] = Array.from({ length: 501 }, (_, i) => {
    const latDeg = 46.1 + i * 0.0001;
    return { lonDeg: -30.2, latDeg, elevationM: recorded(groundM(latDeg), i), timeMs: null };
  });
  const track: Track = { name: 'walk', segments: [points], waypoints: [], attributes: null, notes: [] };
  return recordedHeightNotes(await drape(track, surface)).map(({ code }) => code);
}

/** A jitter without pattern, ±`size`, the same each time. */
const jitter = (i: number, size: number) => size * (2 * ((i * 0.6180339887) % 1) - 1);

describe('recordedHeightNotes', () => {
  it('says nothing about heights that follow the ground, or a file without any', async () => {
    const surface = await terrain(slopeM);
    expect(await codes(surface, (ground, i) => ground + jitter(i, 15))).toEqual([]);
    expect(await codes(surface, (ground) => ground + 8)).toEqual([]);
    expect(await codes(surface, () => null)).toEqual([]);
  });

  it('tells feet by the slope of recorded on ground, and by the ratio on level ground', async () => {
    expect(await codes(await terrain(slopeM), (ground, i) => ground / 0.3048 + jitter(i, 40))).toEqual([
      'ele-looks-like-feet',
    ]);
    const level = () => 700;
    expect(await codes(await terrain(level), (ground, i) => ground / 0.3048 + jitter(i, 20), level)).toEqual([
      'ele-looks-like-feet',
    ]);
  });

  it('tells a steady offset of a geoid’s size, up or down', async () => {
    const surface = await terrain(slopeM);
    expect(await codes(surface, (ground, i) => ground + 51.5 + jitter(i, 8))).toEqual([
      'ele-looks-ellipsoidal',
    ]);
    expect(await codes(surface, (ground, i) => ground - 27.5 + jitter(i, 4))).toEqual([
      'ele-looks-ellipsoidal',
    ]);
    // Neither an offset that wanders nor one too large for a geoid.
    expect(await codes(surface, (ground, i) => ground + 30 + jitter(i, 60))).toEqual([]);
    expect(await codes(surface, (ground) => ground + 90)).toEqual([]);
  });

  it('tells zeros, single ones and all of them', async () => {
    const surface = await terrain(slopeM);
    expect(await codes(surface, (ground, i) => (i % 50 === 7 ? 0 : ground))).toEqual(['ele-suspect']);
    expect(await codes(surface, () => 0)).toEqual(['ele-suspect']);
    const sea = () => 2;
    expect(await codes(await terrain(sea), () => 0, sea)).toEqual([]);
  });

  it('tells a single wild point, though it falls between two stations', async () => {
    const surface = await terrain(slopeM);
    expect(await codes(surface, (ground, i) => (i === 251 ? ground + 400 : ground))).toEqual(['ele-suspect']);
  });

  it('tells heights that are far off throughout', async () => {
    expect(await codes(await terrain(slopeM), (ground) => ground + 350)).toEqual(['ele-suspect']);
  });

  it('still sees feet among zeros', async () => {
    expect(await codes(await terrain(slopeM), (ground, i) => (i % 20 === 0 ? 0 : ground / 0.3048))).toEqual([
      'ele-looks-like-feet',
    ]);
  });

  describe.skipIf(!existsSync(DATA))('on a real hike (needs ../shared/data)', () => {
    it('says nothing about heights that a receiver recorded above the sea', async () => {
      const gpx = readFileSync(join(DATA, 'tracks/cima-sasso.gpx'), 'utf8');
      const points: TrackPoint[] = [...gpx.matchAll(/<trkpt ([^>]*)>(.*?)<\/trkpt>/gs)].map(
        ([, head = '', body = '']) => ({
          latDeg: Number(/lat="([^"]+)"/.exec(head)?.[1]),
          lonDeg: Number(/lon="([^"]+)"/.exec(head)?.[1]),
          elevationM: Number(/<ele>([^<]+)</.exec(body)?.[1]),
          timeMs: null,
        }),
      );
      expect(points.length).toBe(2774);
      const surface = await openSurface([join(DATA, 'dem/N46E008.tif')]);
      const track: Track = { name: 'hike', segments: [points], waypoints: [], attributes: null, notes: [] };
      const elevated = await drape(track, surface);
      expect(elevated.coverage).toBe(1);
      // data/README.md: 11.75 km there and back.
      expect(elevated.lengthM / 1000).toBeCloseTo(11.75, 1);
      expect(recordedHeightNotes(elevated)).toEqual([]);
    });
  });
});
