import { describe, expect, it } from 'vitest';
import { codes, gpx, gpxOf, line, readOne, refused, seg, trk, trkpt, walk } from './samples.ts';

const bend = (legs: [number, number][]): string => JSON.stringify(line(legs));

describe('the repair of a line', () => {
  it('drops a few points at 0,0 with a note, and refuses many', () => {
    const track = readOne(gpxOf(walk(100) + trkpt(0, 0) + walk(100, 46.12)));
    expect(track.segments[0]).toHaveLength(200);
    expect(codes(track)).toContain('zero-points-dropped');
    const error = refused(gpxOf(walk(50) + trkpt(0, 0).repeat(2) + walk(50, 46.11)));
    expect(error.code).toBe('bad-coordinate');
    expect(error.place.pointer).toBe('/trk[1]/trkseg[1]/trkpt[51]');
  });

  it('keeps the first of repeated points and fills what it lacks from the next', () => {
    const first = trkpt(46.1, -30.2) + trkpt(46.1, -30.2, '<ele>0</ele><time>2026-07-11T06:00:00Z</time>');
    const track = readOne(
      gpxOf(first + trkpt(46.1002, -30.2, '<ele>3</ele>') + trkpt(46.1002, -30.2, '<ele>9</ele>')),
    );
    expect(track.segments[0]).toEqual([
      { lonDeg: -30.2, latDeg: 46.1, elevationM: 0, timeMs: Date.UTC(2026, 6, 11, 6) },
      { lonDeg: -30.2, latDeg: 46.1002, elevationM: 3, timeMs: null },
    ]);
  });

  it('leaves no repeat where two segments are joined at one place', () => {
    const track = readOne(gpx(trk(seg(walk(10)) + seg(walk(10, 46.1018)))));
    expect(track.segments.map((segment) => segment.length)).toEqual([19]);
  });

  it('joins a gap of 49 m and leaves one of 51 m open', () => {
    // One degree of latitude at 46.1° is 111,153 m (meridian arc, WGS 84).
    const after = (gapM: number): string => {
      const start = 46.1018 + gapM / 111_153;
      return gpx(
        trk(seg(walk(10)) + seg(trkpt(start.toFixed(7), -30.2) + trkpt((start + 0.0002).toFixed(7), -30.2))),
      );
    };
    expect(readOne(after(49)).segments).toHaveLength(1);
    expect(readOne(after(51)).segments).toHaveLength(2);
  });

  it('refuses a jump in a recording but keeps a straight leg of a drawn line, with a note', () => {
    expect(refused(gpxOf(walk(30) + walk(30, 46.12))).code).toBe('implausible-jump');
    const drawn = readOne(gpx(`<rte>${(walk(30) + walk(30, 46.12)).replaceAll('trkpt', 'rtept')}</rte>`));
    expect(drawn.segments[0]).toHaveLength(60);
    expect(codes(drawn)).toContain('long-leg');
    const tooFar = gpx(`<rte>${(walk(30) + walk(30, 46.2)).replaceAll('trkpt', 'rtept')}</rte>`);
    expect(refused(tooFar).code).toBe('implausible-jump');
  });

  it('drops at most one bad fix in a hundred points', () => {
    const far = trkpt(20, -30.2);
    const twice = (count: number): string =>
      gpxOf(
        walk(count) + far + walk(count, 46.1 + count * 0.0002) + far + walk(2, 46.1 + 2 * count * 0.0002),
      );
    expect(refused(twice(30)).code).toBe('implausible-jump');
    expect(readOne(twice(120)).segments[0]).toHaveLength(242);
  });

  it('refuses a line over 500 km or over 10° wide, and notes one under 1 km', () => {
    const leg = (from: number, to: number): [number, number][] => [
      [-30.2, from],
      [-30.2, to],
    ];
    expect(refused(bend(leg(46, 50.6))).code).toBe('route-size');
    expect(readOne(bend(leg(46, 50.4))).segments).toHaveLength(1);
    const apart = JSON.stringify({ type: 'MultiLineString', coordinates: [leg(46, 46.1), leg(56.2, 56.3)] });
    expect(refused(apart).place).toMatchObject({ limit: 10 });
    expect(codes(readOne(gpxOf(walk(5))))).toContain('short-route');
    expect(codes(readOne(gpxOf(walk(60))))).toEqual([]);
  });

  it('flags points more than 250 m apart on average', () => {
    expect(
      codes(
        readOne(
          bend([
            [-30.2, 46.1],
            [-30.2, 46.1023],
            [-30.2, 46.1046],
          ]),
        ),
      ),
    ).toContain('coarse-geometry');
    expect(
      codes(
        readOne(
          bend([
            [-30.2, 46.1],
            [-30.2, 46.1022],
            [-30.2, 46.1044],
          ]),
        ),
      ),
    ).not.toContain('coarse-geometry');
  });

  it('drops a segment at one place beside a good one', () => {
    const track = readOne(gpx(trk(seg(trkpt(46.09, -30.2).repeat(9)) + seg(walk()))));
    expect(codes(track)).toContain('segment-dropped');
    expect(track.segments).toHaveLength(1);
  });

  it('rounds coordinates to 1e-7 degrees', () => {
    const track = readOne(gpxOf(trkpt('46.12345678901', '-30.98765432109') + trkpt(46.1236, -30.9876)));
    expect(track.segments[0]?.[0]).toMatchObject({ latDeg: 46.1234568, lonDeg: -30.9876543 });
  });
});
