import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { readTracks } from '../../src/ingest/read-tracks.ts';

const FILE = '../shared/data/tracks/cima-sasso.gpx';

// 2,774 points, 11.75 km, 06:24:49Z to 11:43:55Z on 2016-04-10: the data's own README.
describe.skipIf(!existsSync(FILE))('the recorded hike to Cima Sasso (needs ../shared/data)', () => {
  it('is read whole, with every time and height, and without a note', () => {
    const [track, ...more] = readTracks(readFileSync(FILE), { fileName: FILE });
    expect(more).toEqual([]);
    const points = track?.segments[0] ?? [];
    expect(track?.segments).toHaveLength(1);
    expect(points).toHaveLength(2774);
    expect(track?.notes).toEqual([]);
    expect(points.every((p) => p.timeMs !== null && p.elevationM !== null)).toBe(true);
    expect(points[0]?.timeMs).toBe(Date.UTC(2016, 3, 10, 6, 24, 49));
    expect(points.at(-1)?.timeMs).toBe(Date.UTC(2016, 3, 10, 11, 43, 55));
    let lengthM = 0;
    for (const [i, point] of points.entries()) {
      const last = points[i - 1];
      if (last !== undefined) lengthM += geodesicM(last, point);
    }
    // "11.75 km" in the README, "11.77" where it speaks of the naive line.
    expect(lengthM / 1000).toBeGreaterThan(11.7);
    expect(lengthM / 1000).toBeLessThan(11.8);
  });
});
