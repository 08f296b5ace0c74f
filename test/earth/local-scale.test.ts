import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { localScale } from '../../src/earth/local-scale.ts';

describe('localScale', () => {
  it('gives a degree at the equator', () => {
    // 6,378,137 m · π / 180, EPSG:7030.
    expect(localScale(0).mPerDegLon).toBeCloseTo(111_319.49, 2);
  });

  it('agrees with geodesics over ten metres, from pole to pole', () => {
    fc.assert(
      fc.property(fc.double({ min: -85, max: 85, noNaN: true }), (latDeg) => {
        const { mPerDegLat, mPerDegLon } = localScale(latDeg);
        const here = { lonDeg: -30.2, latDeg };
        const east = { lonDeg: -30.2 + 10 / mPerDegLon, latDeg };
        const north = { lonDeg: -30.2, latDeg: latDeg + 10 / mPerDegLat };
        expect(geodesicM(here, east)).toBeCloseTo(10, 4);
        expect(geodesicM(here, north)).toBeCloseTo(10, 4);
      }),
    );
  });
});
