import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { summerOfNorth, usualC, yearAt } from '../../src/earth/climate.ts';

const latitudes = fc.double({ min: -90, max: 90, noNaN: true });

describe('the usual temperature of a date', () => {
  it('has its warmest day in late July in the north and its coldest there in the south', () => {
    expect(usualC(yearAt(40), 0, summerOfNorth('2026-07-24'))).toBeCloseTo(25, 1);
    expect(usualC(yearAt(40), 0, summerOfNorth('2026-01-23'))).toBeCloseTo(3, 1);
    expect(usualC(yearAt(-40), 0, summerOfNorth('2026-07-24'))).toBeCloseTo(8, 1);
  });

  it('is within 5 K of the months of mountains known from memory', () => {
    // Mean of January and July: a summit of 1,917 m at 44°, one of 2,502 m at 47°, a station of 3,739 m at 40°.
    for (const [latDeg, elevationM, january, july] of [
      [44.3, 1917, -15, 9.4],
      [47.2, 2502, -7, 5.9],
      [40.1, 3739, -13, 8.5],
    ] as const) {
      const mean = (date: string) => usualC(yearAt(latDeg), elevationM, summerOfNorth(date));
      expect(Math.abs(mean('2026-07-15') - july)).toBeLessThan(5);
      // Winters differ more between coast and continent.
      expect(Math.abs(mean('2026-01-15') - january)).toBeLessThan(12);
    }
  });

  it('is steady from latitude to latitude, and defined everywhere', () => {
    fc.assert(
      fc.property(latitudes, (latDeg) => {
        const [here, near] = [yearAt(latDeg), yearAt(Math.min(90, latDeg + 0.01))];
        expect(Math.abs(here.meanC - near.meanC)).toBeLessThan(0.05);
        // The sides of the equator meet where the season hardly counts.
        if (latDeg > 0 || latDeg < -0.01) expect(Math.abs(here.swingK - near.swingK)).toBeLessThan(0.05);
      }),
    );
  });
});
