import fc from 'fast-check';
import mgrs from 'mgrs';
import { describe, expect, it } from 'vitest';
import { gridReference } from '../../src/earth/grid-reference.ts';
import fixture from '../fixtures/earth/grid-references.json' with { type: 'json' };

const CASES = fixture.values.map((line) => {
  const [latDeg = '', lonDeg = '', to1m = '', to10m = ''] = line.split(' ');
  return { place: { lonDeg: Number(lonDeg), latDeg: Number(latDeg) }, to1m, to10m };
});
// Whole ten-thousandths: doubles drawn by their bits would nearly all lie next to 0.
const degrees = (min: number, max: number) =>
  fc.integer({ min: min * 1e4, max: max * 1e4 }).map((n) => n / 1e4);

describe('a grid reference', () => {
  it('is the one of GeoConvert at 200 places, among them the odd zones of the north and borders', () => {
    expect(CASES).toHaveLength(200);
    expect(CASES.map(({ place }) => gridReference(place)?.compact)).toEqual(CASES.map((each) => each.to1m));
    expect(CASES.map(({ place }) => gridReference(place, 10)?.compact)).toEqual(
      CASES.map((each) => each.to10m),
    );
  });

  it('is printed in groups, and comes without spaces too', () => {
    const place = { lonDeg: -30.2, latDeg: 46.1 };
    // GeoConvert -m -p 0: 25TGM1641608970.
    expect(gridReference(place)).toEqual({
      text: '25T GM 16416 08970',
      compact: '25TGM1641608970',
      precisionM: 1,
    });
    expect(gridReference(place, 10)).toEqual({
      text: '25T GM 1641 0897',
      compact: '25TGM16410897',
      precisionM: 10,
    });
  });

  it('cuts digits off and never rounds: the square of 10 m holds the square of 1 m', () => {
    fc.assert(
      fc.property(degrees(-180, 180), degrees(-80, 83), (lonDeg, latDeg) => {
        const [zone, square, east = '', north = ''] =
          gridReference({ lonDeg, latDeg })?.text.split(' ') ?? [];
        expect(gridReference({ lonDeg, latDeg }, 10)?.text).toBe(
          `${zone} ${square} ${east.slice(0, 4)} ${north.slice(0, 4)}`,
        );
      }),
    );
  });

  it('names a square of a metre that holds the place', () => {
    fc.assert(
      fc.property(degrees(-180, 180), degrees(-80, 83), (lonDeg, latDeg) => {
        const [west, south, east, north] = mgrs.inverse(gridReference({ lonDeg, latDeg })?.compact ?? '');
        // Corners on a diagonal: with the grid turned against north the place may lie a metre outside their box.
        const metreDeg = 1 / 111_000;
        expect(latDeg).toBeGreaterThan(south - metreDeg);
        expect(latDeg).toBeLessThan(north + metreDeg);
        const lonMetreDeg = metreDeg / Math.cos((latDeg * Math.PI) / 180);
        const turned = lonDeg - 360 * Math.round((lonDeg - (west + east) / 2) / 360);
        expect(Math.abs(turned - (west + east) / 2)).toBeLessThan(2 * lonMetreDeg);
      }),
    );
  });

  it('is the same a turn further round, and at 180° belongs to zone 1', () => {
    fc.assert(
      // Quarters of a degree stay exact through the turn.
      fc.property(fc.integer({ min: -720, max: 720 }), degrees(-80, 83), (quarters, latDeg) => {
        const lonDeg = quarters / 4;
        expect(gridReference({ lonDeg: lonDeg + 360, latDeg })).toEqual(gridReference({ lonDeg, latDeg }));
      }),
    );
    // GeoConvert -m -p 0 of 0 180.
    expect(gridReference({ lonDeg: 180, latDeg: 0 })?.compact).toBe('01NAA6602100000');
    // The package has zone 60 there; once it has not, the wrapping can go.
    expect(mgrs.forward([180, 0])).toBe('60NZF3397800000');
  });

  it('writes a zone below 10 with two digits', () => {
    expect(gridReference({ lonDeg: -155.5, latDeg: 19.5 })?.text).toMatch(/^05Q /);
  });

  it('has none in the polar grid, from 84° N and beyond 80° S', () => {
    expect(gridReference({ lonDeg: 20, latDeg: 83.999999 })?.text).toMatch(/^33X /);
    expect(gridReference({ lonDeg: 20, latDeg: 84 })).toBeNull();
    expect(gridReference({ lonDeg: 20, latDeg: 90 })).toBeNull();
    expect(gridReference({ lonDeg: 20, latDeg: -80 })?.text).toMatch(/^34C /);
    expect(gridReference({ lonDeg: 20, latDeg: -80.000001 })).toBeNull();
    expect(gridReference({ lonDeg: 20, latDeg: -90 })).toBeNull();
  });

  it('refuses what is no place', () => {
    for (const [lonDeg, latDeg] of [
      [Number.NaN, 0],
      [Number.POSITIVE_INFINITY, 0],
      [0, Number.NaN],
      [0, 90.001],
    ] as const) {
      expect(() => gridReference({ lonDeg, latDeg })).toThrow(RangeError);
    }
  });
});
