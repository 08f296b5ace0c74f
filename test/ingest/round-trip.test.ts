import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import type { Track, TrackPoint } from '../../src/ingest/track.ts';
import { bytesOf, gpx, seg, trk, trkpt } from './samples.ts';

/** A small writer of GPX, longitudes back in range. */
function write(segments: readonly (readonly TrackPoint[])[]): string {
  const point = ({ latDeg, lonDeg, elevationM, timeMs }: TrackPoint): string => {
    const lon = lonDeg > 180 ? lonDeg - 360 : lonDeg < -180 ? lonDeg + 360 : lonDeg;
    const ele = elevationM === null ? '' : `<ele>${elevationM}</ele>`;
    const time = timeMs === null ? '' : `<time>${new Date(timeMs).toISOString()}</time>`;
    return trkpt(latDeg.toFixed(7), lon.toFixed(7), ele + time);
  };
  return gpx(trk(segments.map((points) => seg(points.map(point).join(''))).join('')));
}

const parse = (text: string): readonly Track[] => readTracks(bytesOf(text));

/** Lines of one segment: steps of 2 to 40 m from a start anywhere below 80° of latitude. */
const anyLine = fc
  .record({
    latE7: fc.integer({ min: -800_000_000, max: 800_000_000 }),
    lonE7: fc.integer({ min: -1_800_000_000, max: 1_800_000_000 }),
    steps: fc.array(
      fc.record({
        northE7: fc.integer({ min: 200, max: 2000 }),
        eastE7: fc.integer({ min: -2000, max: 2000 }),
        elevationM: fc.option(fc.integer({ min: -4300, max: 88_000 }).map((dm) => dm / 10)),
        timeMs: fc.option(fc.integer({ min: 0, max: 4_000_000_000_000 })),
      }),
      { minLength: 2, maxLength: 40 },
    ),
  })
  .map(({ latE7, lonE7, steps }) => {
    let [lat, lon] = [latE7, lonE7];
    return steps.map((step): TrackPoint => {
      lat += step.northE7;
      lon += step.eastE7;
      if (lon > 1_800_000_000) lon -= 3_600_000_000;
      if (lon < -1_800_000_000) lon += 3_600_000_000;
      return { latDeg: lat / 1e7, lonDeg: lon / 1e7, elevationM: step.elevationM, timeMs: step.timeMs };
    });
  });

describe('parse, write, parse', () => {
  it('is the identity on points, also across 180°', () => {
    fc.assert(
      fc.property(anyLine, (points) => {
        const once = parse(write([points]));
        const twice = parse(write(once[0]?.segments ?? []));
        expect(twice[0]?.segments).toEqual(once[0]?.segments);
        expect(once[0]?.segments[0]?.map((p) => [p.latDeg, p.elevationM, p.timeMs])).toEqual(
          points.map((p) => [p.latDeg + 0, p.elevationM === null ? null : p.elevationM + 0, p.timeMs]),
        );
      }),
      { numRuns: 200, seed: 11 },
    );
  });

  it('gives the same points from GPX and from GeoJSON', () => {
    fc.assert(
      fc.property(anyLine, (points) => {
        const coordinates = points.map((p) =>
          p.elevationM === null ? [p.lonDeg, p.latDeg] : [p.lonDeg, p.latDeg, p.elevationM],
        );
        const viaJson = parse(JSON.stringify({ type: 'LineString', coordinates }));
        const viaGpx = parse(write([points.map((p) => ({ ...p, timeMs: null }))]));
        expect(viaJson[0]?.segments).toEqual(viaGpx[0]?.segments);
      }),
      { numRuns: 100, seed: 12 },
    );
  });
});
