import fc from 'fast-check';
import geomagnetism from 'geomagnetism';
import { describe, expect, it } from 'vitest';
import { declination, magneticBearingDeg } from '../../src/earth/declination.ts';
import { MS_PER_DAY } from '../../src/units.ts';

const ISLAND = { lonDeg: -30.2, latDeg: 46.1 };
const yearMs = (year: number) =>
  Date.UTC(Math.floor(year)) + (year % 1) * (Date.UTC(Math.floor(year) + 1) - Date.UTC(Math.floor(year)));

/** World Magnetic Model 2025, test values of its makers: year, altitude km, latitude, longitude, declination °. */
const OFFICIAL: readonly (readonly [number, number, number, number, number])[] = [
  // In sources.md, section 11 [P2].
  [2025.0, 0, 80, 0, 1.28],
  [2025.0, 0, 0, 120, -0.16],
  [2025.0, 0, -80, 240, 68.78],
  [2025.0, 100, 80, 0, 0.85],
  [2027.5, 0, 80, 0, 2.59],
  [2027.5, 0, 0, 120, -0.24],
  [2027.5, 0, -80, 240, 68.49],
  [2025.0, 28, 89, -121, -99.77],
  [2025.0, 48, 80, -96, -29.91],
  [2025.0, 18, 0, 21, 1.29],
  [2025.5, 6, -36, -137, 20.28],
  // More of the makers' list, through the repository CIRES-Geomagnetism/wmm [P2].
  [2025.0, 54, 82, 87, 54.89],
  [2025.0, 65, 43, 93, 0.5],
  [2025.5, 44, 33, -118, 11.1],
  [2026.0, 82, -64, 87, -81.74],
  [2026.5, 12, -79, 115, -137.58],
  [2027.0, 54, 54, 178, 0.63],
  [2027.5, 16, 66, -178, 0.37],
  [2028.0, 75, 79, 125, -18.59],
  [2028.5, 28, 54, -120, 15.43],
  [2028.5, 11, 34, 0, 1.57],
];

describe('the magnetic declination', () => {
  for (const [year, altitudeKm, latDeg, lonDeg, expected] of OFFICIAL) {
    it(`is the makers' at ${latDeg}, ${lonDeg}, ${altitudeKm} km in ${year}`, () => {
      const got = declination({ lonDeg, latDeg }, altitudeKm * 1000, yearMs(year));
      expect(Math.abs((got?.declinationDeg ?? Number.POSITIVE_INFINITY) - expected)).toBeLessThan(0.02);
    });
  }

  it('names its model and the last day it holds for', () => {
    expect(declination(ISLAND, 0, '2026-07-11')).toMatchObject({
      model: 'WMM-2025',
      epoch: 2025,
      lastValidDate: '2029-11-12',
    });
    expect(declination(ISLAND, 0, '2026-07-11')?.declinationDeg).toBeCloseTo(-9.3, 2);
  });

  it('is null outside the validity of the model, and an older model never answers in its place', () => {
    expect(declination(ISLAND, 0, '2029-11-12')).not.toBeNull();
    expect(declination(ISLAND, 0, '2029-11-13')).toBeNull();
    expect(declination(ISLAND, 0, '2035-07-11')).toBeNull();
    expect(declination(ISLAND, 0, '2024-11-14')).not.toBeNull();
    expect(declination(ISLAND, 0, '2024-11-12')).toBeNull();
    // The package answers for that day by the model of 2020.
    expect(geomagnetism.model(new Date('2024-11-12')).name).toBe('WMM-2020');
  });

  it('takes a date for its noon UTC', () => {
    expect(declination(ISLAND, 0, '2026-07-11')).toEqual(declination(ISLAND, 0, Date.UTC(2026, 6, 11, 12)));
  });

  it('takes an unknown height for sea level, and a height of 0 for itself', () => {
    expect(declination(ISLAND, null, '2026-07-11')).toEqual(declination(ISLAND, 0, '2026-07-11'));
    expect(declination(ISLAND, 3000, '2026-07-11')).not.toEqual(declination(ISLAND, 0, '2026-07-11'));
  });

  it('is less sure, and says so of the compass, the nearer a magnetic pole', () => {
    const at = (latDeg: number, lonDeg: number) => declination({ lonDeg, latDeg }, 0, '2026-07-11');
    expect(at(46.1, -30.2)?.compass).toBe('good');
    // The model's H there is 22,530 nT: sqrt(0.26² + (5625/22530)²) = 0.3605.
    expect(at(46.1, -30.2)?.doubtDeg).toBeCloseTo(0.3605, 3);
    expect(at(78, -80)?.compass).toBe('caution');
    expect(at(78, -80)?.doubtDeg).toBeGreaterThan(1);
    expect(at(86, 140)?.compass).toBe('useless');
    expect(at(86, 140)?.doubtDeg).toBeGreaterThan(2.7);
  });

  it('is a number within half a turn anywhere on any day, and the same a turn further round', () => {
    const anywhere = fc.record({
      lonDeg: fc.integer({ min: -360, max: 360 }),
      latDeg: fc.integer({ min: -90, max: 90 }),
    });
    fc.assert(
      fc.property(anywhere, fc.integer({ min: 0, max: 1800 }), (place, days) => {
        const epochMs = Date.UTC(2024, 11, 1) + days * MS_PER_DAY;
        const got = declination(place, 1500, epochMs);
        expect(Math.abs(got?.declinationDeg ?? Number.NaN)).toBeLessThanOrEqual(180);
        expect(got?.doubtDeg).toBeGreaterThan(0.26);
        const turned = declination({ ...place, lonDeg: place.lonDeg + 360 }, 1500, epochMs);
        const apartDeg = (turned?.declinationDeg ?? Number.NaN) - (got?.declinationDeg ?? Number.NaN);
        expect(Math.abs(apartDeg - 360 * Math.round(apartDeg / 360))).toBeLessThan(1e-6);
      }),
    );
  });

  it('refuses what is no place, height or day', () => {
    expect(() => declination({ lonDeg: 0, latDeg: 90.1 }, 0, '2026-07-11')).toThrow(RangeError);
    expect(() => declination({ lonDeg: Number.NaN, latDeg: 0 }, 0, '2026-07-11')).toThrow(RangeError);
    expect(() => declination(ISLAND, Number.NaN, '2026-07-11')).toThrow(RangeError);
    expect(() => declination(ISLAND, 0, Number.NaN)).toThrow(RangeError);
    expect(() => declination(ISLAND, 0, '2026-02-30')).toThrow(RangeError);
    // The package answers NaN by the newest model.
    expect(geomagnetism.model(new Date(Number.NaN)).point([46, -30]).decl).toBeNaN();
  });
});

describe('a magnetic bearing', () => {
  it('is the true one less the declination, from 0 up to 360', () => {
    expect(magneticBearingDeg(5, 9.5)).toBe(355.5);
    expect(magneticBearingDeg(355, -9.5)).toBe(4.5);
    expect(magneticBearingDeg(90, 0)).toBe(90);
    expect(magneticBearingDeg(0, 0)).toBe(0);
    expect(magneticBearingDeg(0, 1e-16)).toBe(0);
    expect(magneticBearingDeg(10, -170)).toBe(180);
  });

  it('leads back to the true one', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 3599 }),
        fc.integer({ min: -1800, max: 1800 }),
        (tenths, offTenths) => {
          const magneticDeg = magneticBearingDeg(tenths / 10, offTenths / 10);
          expect(magneticDeg).toBeGreaterThanOrEqual(0);
          expect(magneticDeg).toBeLessThan(360);
          const errorDeg = magneticDeg + offTenths / 10 - tenths / 10;
          expect(errorDeg - 360 * Math.round(errorDeg / 360)).toBeCloseTo(0, 9);
        },
      ),
    );
  });
});
