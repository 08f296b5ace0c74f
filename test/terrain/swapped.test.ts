import { describe, expect, it } from 'vitest';
import type { Track } from '../../src/ingest/track.ts';
import { looksSwapped } from '../../src/terrain/swapped.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { planeTile, tileFolder } from './tile-folder.ts';

const files = tileFolder();
const tiles = async () =>
  (await openSurface([files.tile(planeTile(-30.25, 46.15, 0.001, 101, 101))])).sources;
const track = (...places: [number, number][]): Track => ({
  name: 'walk',
  segments: [places.map(([lonDeg, latDeg]) => ({ lonDeg, latDeg, elevationM: null, timeMs: null }))],
  waypoints: [],
  attributes: null,
  notes: [],
});

describe('looksSwapped', () => {
  it('is true where only the exchanged positions lie in a tile', async () => {
    expect(looksSwapped(track([46.1, -30.2], [46.11, -30.21]), await tiles())).toBe(true);
  });

  it('is false where a point lies in a tile', async () => {
    expect(looksSwapped(track([-30.2, 46.1], [46.11, -30.21]), await tiles())).toBe(false);
    expect(looksSwapped(track([329.8, 46.1], [329.81, 46.11]), await tiles())).toBe(false);
  });

  it('is false where neither reading meets a tile, or there are none', async () => {
    expect(looksSwapped(track([10, 20], [10.1, 20]), await tiles())).toBe(false);
    expect(looksSwapped(track([46.1, -30.2], [46.11, -30.21]), [])).toBe(false);
  });

  it('is false where less than half of the exchanged positions meet a tile', async () => {
    expect(looksSwapped(track([46.1, -30.2], [47, -31], [48, -32]), await tiles())).toBe(false);
  });
});
