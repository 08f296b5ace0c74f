import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { routeGpx } from '../../src/document/route-gpx.ts';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { lineLengthM } from '../../src/earth/line.ts';
import { cleanText } from '../../src/ingest/names.ts';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import type { Track } from '../../src/ingest/track.ts';
import { checkpointsOf } from '../../src/route/checkpoints.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { ATTRIBUTES, heights, place, routeOf, withGap } from '../plan/card-routes.ts';
import { thereAndBack, upAndDown } from '../support/elevated.ts';

type Line = Route['line'];

function readBack(gpx: string): Track {
  const [track, ...others] = readTracks(new TextEncoder().encode(gpx));
  if (track === undefined || others.length > 0) throw new RangeError('not one track');
  return track;
}
const positions = (segments: readonly (readonly { lonDeg: number; latDeg: number }[])[]) =>
  segments.map((points) => points.map(({ lonDeg, latDeg }) => [lonDeg, latDeg]));
const lengthOf = (line: Line): number =>
  line.reduce(
    (sum, segment) => sum + lineLengthM(segment.map(([lonDeg, latDeg]) => ({ lonDeg, latDeg }))),
    0,
  );
const rounded = (deg: number): number => Math.round(deg * 1e7) / 1e7 + 0;

/** A wandering line of steps of 2 m to about 200 m. */
const wander = fc
  .tuple(
    fc.double({ min: -179.9, max: 179.9, noNaN: true }),
    fc.double({ min: -75, max: 75, noNaN: true }),
    fc.array(fc.tuple(fc.integer({ min: -1500, max: 1500 }), fc.integer({ min: 20, max: 1000 })), {
      minLength: 20,
      maxLength: 60,
    }),
  )
  .map(([lonDeg, latDeg, steps]): Line => {
    let [lon, lat] = [lonDeg, latDeg];
    const found = [[rounded(lon), rounded(lat)] as const];
    for (const [eastE6, northE6] of steps) {
      lon += eastE6 / 1e6;
      lat += northE6 / 1e6;
      found.push([rounded(lon), rounded(lat)]);
    }
    return [found];
  })
  // The reader takes exactly 0, 0 for a receiver without a fix.
  .filter(([line]) => (line ?? []).every(([lon, lat]) => lon !== 0 || lat !== 0));

const HOSTILE = [
  'Fell & Fen <b>high</b> "top"',
  ']]> and <![CDATA[ x ]]>',
  '&amp; &lt; &#65; &notAnEntity;',
  'הר הקרח ההפוך',
  'Ridge 🏔️ of 👩‍🚀 and 𝕏',
  "'; DROP TABLE routes; --",
  '</name></trk></gpx>',
  '__proto__',
  'true',
  '1e3',
  '<!DOCTYPE gpx>',
];

describe('a route as GPX', () => {
  it('is read again with the same points and the same length', () => {
    fc.assert(
      fc.property(wander, (line) => {
        const track = readBack(routeGpx({ name: 'Line', line, sources: [] }, [], 'metric'));
        const turns = Math.round(((line[0]?.[0]?.[0] ?? 0) - (track.segments[0]?.[0]?.lonDeg ?? 0)) / 360);
        expect(positions(track.segments)).toEqual(
          line.map((points) => points.map(([lon, lat]) => [rounded(lon - 360 * turns), lat])),
        );
        expect(lengthOf(track.segments.map((points) => points.map((p) => [p.lonDeg, p.latDeg])))).toBeCloseTo(
          lengthOf(line),
          6,
        );
        expect(track.notes.map(({ code }) => code).filter((code) => code !== 'short-route')).toEqual([]);
      }),
    );
  });

  it('crosses the antimeridian and comes back whole', () => {
    const line: Line = [Array.from({ length: 40 }, (_, i) => [rounded(179.99 + i * 0.001), 46.1] as const)];
    const gpx = routeGpx({ name: 'Line', line, sources: [] }, [], 'metric');
    for (const [, lon] of gpx.matchAll(/lon="([^"]*)"/g))
      expect(Math.abs(Number(lon))).toBeLessThanOrEqual(180);
    expect(positions(readBack(gpx).segments)).toEqual(line);
  });

  it('keeps any name that a route may have', () => {
    for (const name of HOSTILE) {
      const route = { ...routeOf({ heightsM: heights(1000, { count: 60, ratio: 0 }) }), name };
      const tarn = place({ kind: 'waypoint', distanceM: 500, name });
      const track = readBack(routeGpx(route, [tarn], 'metric'));
      expect(track.name).toBe(cleanText(name, ''));
      expect(track.waypoints.map((point) => point.name)).toEqual([cleanText(name, '')]);
    }
  });

  it('is readable whatever characters a name holds', () => {
    const line = routeOf({ heightsM: heights(1000, { count: 60, ratio: 0 }) }).line;
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (name) => {
        const track = readBack(
          routeGpx({ name, line, sources: [] }, [place({ kind: 'bend', distanceM: 500, name })], 'metric'),
        );
        expect(track.name).not.toBe('');
        expect(track.waypoints[0]?.name).not.toBeNull();
      }),
    );
    const odd = readBack(
      routeGpx({ name: 'a\u0000b\uFFFEc\uD800d\u202Ee', line, sources: [] }, [], 'metric'),
    );
    expect(odd.name).toBe('a bcde');
  });

  it('holds the checkpoints with name, height and words, and no time', () => {
    const heightsM = upAndDown(4000, 1000, 900);
    const route = routeOf({ heightsM, bearingsDeg: thereAndBack(heightsM), name: 'Even Hill' });
    const checkpoints = checkpointsOf(route, DESIGN.checkpoints);
    const gpx = routeGpx(route, checkpoints, 'metric');
    expect(gpx).not.toContain('<time');
    expect(gpx).toContain('<desc>highest point; 1,900 m; 4.0 km from the start</desc>');
    expect(gpx).toMatch(/<ele>1900\.0<\/ele>\s*<name>highest point<\/name>/);
    expect(routeGpx(route, checkpoints, 'us')).toContain(
      '<desc>highest point; 6,234 ft; 2.5 mi from the start</desc>',
    );
    const { waypoints } = readBack(gpx);
    for (const checkpoint of checkpoints) {
      expect(waypoints.some((point) => geodesicM(point, checkpoint) < 50)).toBe(true);
    }
  });

  it('holds a place that is passed twice once', () => {
    const lake = (distanceM: number) => place({ kind: 'waypoint', distanceM, name: 'Lake', elevationM: 0 });
    const line = routeOf({ heightsM: heights(1000, { count: 60, ratio: 0 }) }).line;
    const gpx = routeGpx({ name: 'Line', line, sources: [] }, [lake(1200), lake(6800)], 'metric');
    expect(gpx.match(/<wpt /g)).toHaveLength(1);
    expect(gpx).toContain('<ele>0.0</ele>');
    expect(gpx).toContain('1.2 km and 6.8 km from the start');
  });

  it('keeps a gap of the line, and joins an assumed way back to the way up', () => {
    const gapped = describeRoute(
      withGap({ heightsM: heights(1000, { count: 200, ratio: 0 }) }, 60, 75),
      DESIGN,
      {
        attributes: ATTRIBUTES,
      },
    );
    const read = readBack(routeGpx(gapped, [], 'metric'));
    expect(read.segments.map(({ length }) => length)).toEqual(gapped.line.map(({ length }) => length));

    const doubled = routeOf({ heightsM: heights(1000, { count: 100, ratio: 0.2 }) });
    const back = readBack(routeGpx(doubled, [], 'metric'));
    expect(back.segments).toHaveLength(1);
    expect(back.notes).toEqual([]);
    expect(
      lengthOf(back.segments.map((points) => points.map((p) => [p.lonDeg, p.latDeg] as const))),
    ).toBeCloseTo(doubled.measures.distanceM, 1);
  });

  it('puts points into a long straight leg, so that no reader takes it for a bad fix', () => {
    const dense = Array.from({ length: 30 }, (_, i) => [-30.2, rounded(46.1 + i * 0.0002)] as const);
    const line: Line = [[...dense, [-30.2, 46.12], [-30.2, 46.1202]]];
    const gpx = routeGpx({ name: 'Line', line, sources: [] }, [], 'metric');
    const track = readBack(gpx);
    expect(track.notes.map(({ code }) => code)).not.toContain('implausible-jump');
    const read = positions(track.segments)[0] ?? [];
    for (const [lon, lat] of line[0] ?? []) expect(read).toContainEqual([lon, lat]);
    expect(lengthOf([read.map(([lon = 0, lat = 0]) => [lon, lat] as const)])).toBeCloseTo(lengthOf(line), 1);
  });

  it('writes small degrees without an exponent', () => {
    const line: Line = [
      [[0.0000001, 0], ...Array.from({ length: 20 }, (_, i) => [0, (i + 1) / 1000] as const)],
    ];
    expect(routeGpx({ name: 'Line', line, sources: [] }, [], 'metric')).toContain('lat="0" lon="0.0000001"');
  });
});
