import { describe, expect, it } from 'vitest';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import { bytesOf, caught, codes, gpxOf, refused, trkpt, walk } from './samples.ts';

/** Points north along a meridian, `[metres, seconds or none]`. One degree of latitude at 46.1° is 111,153 m. */
const along = (steps: readonly (readonly [number, number | null])[]): string =>
  steps
    .map(([metres, seconds]) => {
      const at = seconds === null ? '' : new Date(Date.UTC(2026, 6, 11, 6) + seconds * 1000).toISOString();
      return trkpt((46.1 + metres / 111_153).toFixed(7), -30.2, at && `<time>${at}</time>`);
    })
    .join('');
const steps = (count: number, fromM = 0, fromS = 0) =>
  Array.from({ length: count }, (_, i) => [fromM + i * 20, fromS + i * 20] as const);
const read = (text: string) => readTracks(bytesOf(text), {}, 45);
const drive = (stepM: number) =>
  gpxOf(along([...steps(60), [1180 + stepM, 1200], [1180 + 2 * stepM, 1220], [1180 + 3 * stepM, 1240]]));

describe('readTracks of a recording', () => {
  it('keeps the long steps of a drive, which a candidate route may not have', () => {
    const [track] = read(drive(556));
    expect(track?.segments.map((points) => points.length)).toEqual([63]);
    expect(track === undefined ? [] : codes(track)).toEqual([]);
    expect(refused(drive(556)).code).toBe('implausible-jump');
  });

  it('refuses steps that were covered faster, and long ones without times', () => {
    expect(caught(() => read(drive(1000))).code).toBe('implausible-jump');
    expect(caught(() => read(gpxOf(walk(30) + walk(30, 46.12)))).code).toBe('implausible-jump');
    expect(caught(() => read(gpxOf(along([...steps(60), [5000, null], [5020, null]])))).code).toBe(
      'implausible-jump',
    );
  });

  it('drops a bad fix that nobody could have reached', () => {
    const [track] = read(gpxOf(along([...steps(60), [9000, 1200], ...steps(60, 1220, 1220)])));
    expect(track?.segments.map((points) => points.length)).toEqual([120]);
    expect(track === undefined ? [] : codes(track)).toEqual(['implausible-jump']);
  });
});
