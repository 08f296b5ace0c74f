import { existsSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { length, lineString } from '@turf/turf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { azimuthDeg, destination, geodesicM, type Place } from '../../src/earth/geodesic.ts';

// Whole ten-thousandths: doubles drawn by their bits would nearly all lie next to 0.
const degrees = (min: number, max: number) =>
  fc.integer({ min: min * 1e4, max: max * 1e4 }).map((n) => n / 1e4);
const DATA = '../shared/data';
const rad = (deg: number) => (deg * Math.PI) / 180;
/** Angle between two bearings, degrees, the short way round. */
const turnDeg = (a: number, b: number) => Math.abs(a - b - 360 * Math.round((a - b) / 360));

describe.skipIf(!existsSync(DATA))('geodesics of the published test set (needs ../shared/data)', () => {
  // GeographicLib's GeodTest-short.dat: 10,000 geodesics computed with extended precision (Karney 2013, section 9).
  // Columns: lat1 lon1 azi1 lat2 lon2 azi2 s12 a12 m12 S12.
  const rows = () =>
    gunzipSync(readFileSync(`${DATA}/truth/GeodTest-short.dat.gz`))
      .toString('utf8')
      .trim()
      .split('\n')
      .map((line) => {
        const [lat1 = NaN, lon1 = NaN, azi1 = NaN, lat2 = NaN, lon2 = NaN, , s12 = NaN, , m12 = NaN] = line
          .split(' ')
          .map(Number);
        const from: Place = { lonDeg: lon1, latDeg: lat1 };
        const to: Place = { lonDeg: lon2, latDeg: lat2 };
        return { from, to, azi1, s12, m12 };
      });

  it('agrees with every length within 10 nm', () => {
    let answered = 0;
    let worstM = 0;
    for (const { from, to, s12 } of rows()) {
      const gotM = geodesicM(from, to);
      if (Number.isFinite(gotM)) answered += 1;
      worstM = Math.max(worstM, Math.abs(gotM - s12));
    }
    expect(answered).toBe(10_000);
    expect(worstM).toBeLessThan(10e-9); // 7.5 nm today
  });

  it('agrees with every bearing within 10 nm across the line at its far end', () => {
    // A turn of the bearing moves the far end by the reduced length m12 times the turn; between near-antipodal places
    // m12 is almost 0 and the bearing itself is loosely determined.
    let answered = 0;
    let worstM = 0;
    for (const { from, to, azi1, m12 } of rows()) {
      const gotDeg = azimuthDeg(from, to);
      if (gotDeg >= 0 && gotDeg < 360) answered += 1;
      worstM = Math.max(worstM, rad(turnDeg(gotDeg, azi1)) * Math.abs(m12));
    }
    expect(answered).toBe(10_000);
    expect(worstM).toBeLessThan(10e-9); // 9.5 nm today
  });

  it('reaches every destination within 10 nm', () => {
    let answered = 0;
    let worstM = 0;
    for (const { from, to, azi1, s12 } of rows()) {
      const got = destination(from, azi1, s12);
      if (Number.isFinite(got.lonDeg)) answered += 1;
      worstM = Math.max(worstM, geodesicM(got, to));
    }
    expect(answered).toBe(10_000);
    expect(worstM).toBeLessThan(10e-9); // 9.6 nm today
  });
});

describe('geodesics', () => {
  it('measures a degree of the equator as documented', () => {
    // One degree of the WGS 84 equator: 6,378,137 m × π / 180 = 111,319.491 m.
    expect(geodesicM({ lonDeg: 0, latDeg: 0 }, { lonDeg: 1, latDeg: 0 })).toBeCloseTo(111319.491, 3);
  });

  it('gives bearings from 0 to below 360', () => {
    const here = { lonDeg: -30.2, latDeg: 46.1 };
    expect(azimuthDeg(here, { lonDeg: -30.2, latDeg: 46.2 })).toBeCloseTo(0, 9);
    expect(azimuthDeg(here, { lonDeg: -30.2, latDeg: 46.0 })).toBeCloseTo(180, 9);
    expect(azimuthDeg(here, { lonDeg: -30.3, latDeg: 46.1 })).toBeCloseTo(270.036, 3);
  });

  it('carries longitude on past 180 instead of wrapping it', () => {
    expect(destination({ lonDeg: 179.9, latDeg: 0 }, 90, 111319.491).lonDeg).toBeCloseTo(180.9, 6);
  });

  it('lies within 0.5 % of the length on a sphere', () => {
    // Outside check: @turf/turf, sphere of 6,371,008.8 m. From 20° to 80° the ellipsoid's radii of curvature are
    // 6,343 to 6,399 km; nearer the equator a line north and south would differ by up to 0.56 %.
    const step = degrees(0.001, 0.5);
    fc.assert(
      fc.property(degrees(-179, 179), degrees(20, 79), step, step, (lonDeg, latDeg, eastDeg, northDeg) => {
        const from = { lonDeg, latDeg };
        const to = { lonDeg: lonDeg + eastDeg, latDeg: latDeg + northDeg };
        const line = lineString([from, to].map((place) => [place.lonDeg, place.latDeg]));
        const sphereM = length(line, { units: 'meters' });
        expect(Math.abs(geodesicM(from, to) / sphereM - 1)).toBeLessThan(0.005);
      }),
      { numRuns: 500 },
    );
  });
});
