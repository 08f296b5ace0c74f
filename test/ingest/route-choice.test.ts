import { describe, expect, it } from 'vitest';
import { codes, gpx, gpxOf, read, readOne, refused, seg, trk, walk } from './samples.ts';

const rte = (name: string | null, count = 30): string =>
  `<rte>${name === null ? '' : `<name>${name}</name>`}${walk(count).replaceAll('trkpt', 'rtept')}</rte>`;
const named = (name: string): string => trk(`<name>${name}</name>${seg(walk())}`);

describe('which routes a GPX file gives', () => {
  it('prefers the track where a track and a route have one name, or none', () => {
    for (const text of [
      named('Ridge') + rte('Ridge'),
      trk(seg(walk())) + rte(null),
      named('Ridge') + rte(null),
      trk(seg(walk())) + rte('Plan'),
    ]) {
      const track = readOne(gpx(text));
      expect(track.segments[0]).toHaveLength(60);
      expect(codes(track)).toContain('route-ignored');
    }
  });

  it('gives both where their names differ, in the order of the file', () => {
    expect(read(gpx(rte('Plan') + named('Ridge'))).map((track) => track.name)).toEqual(['Plan', 'Ridge']);
  });

  it('reads a route alone, and falls back on it where the track is empty', () => {
    expect(readOne(gpx(rte('Plan'))).segments[0]).toHaveLength(30);
    const track = readOne(gpx(trk('<name>Plan</name>') + rte('Plan')));
    expect(track.segments[0]).toHaveLength(30);
    expect(codes(track)).toContain('track-dropped');
    expect(refused(gpx('<rte><rtept lat="46.1" lon="-30.2"/></rte>')).place.pointer).toBe('/rte[1]');
    expect(refused(gpx('<rte><rtept lat="46.1" lon="x"/></rte>')).place.pointer).toBe(
      '/rte[1]/rtept[1]/@lon',
    );
  });

  it('leaves out a stub of one point beside a line', () => {
    const stub = '<trk><name>Stub</name><trkseg><trkpt lat="46.1" lon="-30.2"/></trkseg></trk>';
    const track = readOne(gpx(stub + named('Ridge')));
    expect(track.name).toBe('Ridge');
    expect(codes(track)).toContain('track-dropped');
  });

  it('names a track by itself, else by the file’s metadata, else by the file, else not', () => {
    const meta = '<metadata><name>Island traverse</name></metadata>';
    const bare = trk(seg(walk()));
    expect(readOne(gpx(meta + named('Ridge')), { fileName: 'f.gpx' }).name).toBe('Ridge');
    expect(readOne(gpx(meta + bare), { fileName: 'f.gpx' }).name).toBe('Island traverse');
    expect(readOne(gpxOf(walk(), '<name></name>'), { fileName: 'f.gpx' }).name).toBe('f');
    expect(readOne(gpx(bare)).name).toBe('Unnamed route');
  });

  it('numbers equal names', () => {
    const names = (text: string): string[] => read(gpx(text)).map((track) => track.name);
    expect(names(named('A').repeat(3) + named('B') + named('A (2)'))).toEqual([
      'A',
      'A (3)',
      'A (4)',
      'B',
      'A (2)',
    ]);
    expect(names(trk(seg(walk())).repeat(2))).toEqual(['Unnamed route', 'Unnamed route (2)']);
    expect(names(named('x'.repeat(200)).repeat(2))[1]).toHaveLength(200);
  });
});
