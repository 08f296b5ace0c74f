import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { destination, geodesicM, type Place } from '../../src/earth/geodesic.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { heightsAlong, type LinePoints, linePointsOf, passesOf, placeAt } from '../../src/route/place-at.ts';
import { withGap } from '../plan/card-routes.ts';
import { elevated, SOMEWHERE } from '../support/elevated.ts';
import { mountain } from '../support/fit-input.ts';

/** A line through the places, in one go. */
const lineOf = (...places: readonly Place[]): LinePoints =>
  linePointsOf({ line: [places.map(({ lonDeg, latDeg }) => [lonDeg, latDeg] as const)] });
const metresApart = (a: Place, b: Place): number => geodesicM(a, b);

describe('linePointsOf', () => {
  it('is as long as the route', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 359 }), { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 5, max: 200 }),
        (bearingsDeg, spacingM) => {
          const heightsM = Array.from({ length: bearingsDeg.length + 1 }, () => 100);
          const route = describeRoute(elevated({ heightsM, bearingsDeg, spacingM }), DESIGN);
          const lengthM = linePointsOf(route).distanceM.at(-1) ?? 0;
          expect(Math.abs(lengthM / route.measures.distanceM - 1)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('gives a gap between two segments no length', () => {
    const track = withGap({ heightsM: Array.from({ length: 101 }, () => 100) }, 40, 60);
    const { distanceM } = linePointsOf(describeRoute(track, DESIGN));
    expect(distanceM.at(-1)).toBeCloseTo(1600, 3);
  });
});

describe('placeAt', () => {
  const ends = [SOMEWHERE, destination(SOMEWHERE, 70, 300)] as const;
  const line = lineOf(...ends);

  it('is the end of the line at its ends and beyond them', () => {
    for (const atM of [0, -1, -1e6]) expect(placeAt(line, atM)).toEqual(ends[0]);
    for (const atM of [300.001, 1e6]) expect(placeAt(line, atM)).toEqual(ends[1]);
    expect(metresApart(placeAt(line, 300), ends[1])).toBeLessThan(1e-6);
  });

  it('lies on the geodesic between two points to a centimetre', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: -70, max: 70 }),
        (share, lengthM, bearing, latDeg) => {
          const from = { lonDeg: 12, latDeg };
          const found = placeAt(lineOf(from, destination(from, bearing, lengthM)), share * lengthM);
          // 500 m at 70° bend by d²·tan φ/(8R) = 13 mm from the geodesic.
          expect(metresApart(found, destination(from, bearing, share * lengthM))).toBeLessThan(0.015);
        },
      ),
    );
  });

  it('crosses 180° where the longitudes run on past it', () => {
    const across = lineOf({ lonDeg: 179.999, latDeg: -44 }, { lonDeg: 180.001, latDeg: -44 });
    const lengthM = across.distanceM.at(-1) ?? 0;
    expect(lengthM).toBeLessThan(200);
    expect(placeAt(across, lengthM / 2).lonDeg).toBeCloseTo(180, 9);
  });

  it('stands at the far side of a gap at the gap’s distance, and never inside it', () => {
    const track = withGap({ heightsM: Array.from({ length: 101 }, () => 100) }, 40, 60);
    const gapped = linePointsOf(describeRoute(track, DESIGN));
    const from = (distanceM: number) => destination(SOMEWHERE, 90, distanceM);
    expect(metresApart(placeAt(gapped, 799), from(799))).toBeLessThan(1);
    expect(metresApart(placeAt(gapped, 801), from(1201))).toBeLessThan(1);
  });

  it('is the high point at the high point’s distance', () => {
    const route = mountain();
    const { high } = route;
    expect(high).not.toBeNull();
    if (high === null) return;
    expect(metresApart(placeAt(linePointsOf(route), high.distanceM), high)).toBeLessThan(0.01);
  });

  it('stays where two points are the same', () => {
    expect(placeAt(lineOf(SOMEWHERE, SOMEWHERE), 5)).toEqual(SOMEWHERE);
    expect(placeAt(lineOf(SOMEWHERE), 5)).toEqual(SOMEWHERE);
  });

  it('refuses a line without points', () => {
    expect(() => placeAt({ points: [], distanceM: [] }, 0)).toThrow(RangeError);
  });
});

describe('heightsAlong', () => {
  const profile: Route['profile'] = [
    [0, -2],
    [20, 0],
    [40, 10],
    [60, null],
    [80, 30],
    [100, 31],
  ];
  const heightAt = heightsAlong(profile);

  it('is the height at a station, and goes straight between two', () => {
    expect([0, 20, 40, 80, 100].map(heightAt)).toEqual([-2, 0, 10, 30, 31]);
    expect(heightAt(30)).toBeCloseTo(5, 9);
  });

  it('is null in a void and on both sides up to the next known height', () => {
    expect([41, 60, 61, 79.9].map(heightAt)).toEqual([null, null, null, null]);
  });

  it('keeps the end’s height beyond the ends, and knows nothing of an empty profile', () => {
    expect(heightAt(-5)).toBe(-2);
    expect(heightAt(500)).toBe(31);
    expect(heightsAlong([])(0)).toBeNull();
  });
});

describe('passesOf', () => {
  const out = mountain();
  const line = linePointsOf(out);
  const beside = (atM: number, offM: number) => destination(placeAt(line, atM), 0, offM);
  const atOf = (found: readonly { atM: number }[]) => found.map(({ atM }) => Math.round(atM));

  it('meets a place twice on an out and back, and the top once', () => {
    expect(atOf(passesOf(line, placeAt(line, 1234), 75, 150))).toEqual([1234, 6766]);
    expect(passesOf(line, placeAt(line, 4000), 75, 150)).toHaveLength(1);
    expect(atOf(passesOf(line, placeAt(line, 0), 75, 150))).toEqual([0, 8000]);
  });

  it('says how far off the line the place lies, and leaves out what lies farther', () => {
    const [pass] = passesOf(line, beside(2000, 60), 75, 150);
    expect(pass?.offM).toBeCloseTo(60, 1);
    expect(passesOf(line, beside(2000, 80), 75, 150)).toEqual([]);
    expect(passesOf({ points: [], distanceM: [] }, SOMEWHERE, 75, 150)).toEqual([]);
  });

  it('is one pass where a straight way is long in reach', () => {
    const straight = lineOf(SOMEWHERE, destination(SOMEWHERE, 90, 3000));
    expect(atOf(passesOf(straight, placeAt(straight, 1500), 500, 50))).toEqual([1500]);
    expect(atOf(passesOf(straight, destination(placeAt(straight, 1500), 0, 300), 500, 150))).toEqual([1500]);
  });

  it('is one pass where the way goes round a place within reach', () => {
    const round = Array.from({ length: 37 }, (_, i) => destination(SOMEWHERE, i * 10, 60 + (i % 2)));
    expect(passesOf(lineOf(...round), SOMEWHERE, 75, 150)).toHaveLength(1);
  });

  it('finds both ways past a place near the top of an out and back in a wide reach', () => {
    expect(atOf(passesOf(line, placeAt(line, 3600), 500, 150))).toEqual([3600, 4400]);
  });

  it('keeps passes of less walking apart than asked as the nearest of them', () => {
    // 50 m before the top and 50 m after it are 100 m of walking.
    expect(atOf(passesOf(line, placeAt(line, 3950), 20, 150))).toEqual([3950]);
    expect(atOf(passesOf(line, placeAt(line, 3950), 20, 90))).toEqual([3950, 4050]);
  });

  it('finds a place written on the other side of 180°', () => {
    const across = lineOf({ lonDeg: 179.99, latDeg: -44 }, { lonDeg: 180.01, latDeg: -44 });
    const [pass] = passesOf(across, { lonDeg: -179.995, latDeg: -44 }, 75, 150);
    expect(pass?.atM).toBeCloseTo(0.75 * (across.distanceM.at(-1) ?? 0), 3);
  });

  it('does not pass what lies in a gap of the line', () => {
    const track = withGap({ heightsM: Array.from({ length: 101 }, () => 100) }, 40, 60);
    const gapped = linePointsOf(describeRoute(track, DESIGN));
    expect(passesOf(gapped, destination(SOMEWHERE, 90, 1000), 75, 150)).toEqual([]);
  });

  it('never puts two passes nearer than asked, and none out of reach', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 359 }), { minLength: 2, maxLength: 80 }),
        fc.integer({ min: 10, max: 500 }),
        fc.integer({ min: 50, max: 400 }),
        (bearings, withinM, apartM) => {
          const places = [SOMEWHERE];
          for (const bearing of bearings) places.push(destination(places.at(-1) ?? SOMEWHERE, bearing, 70));
          const wound = lineOf(...places);
          const found = passesOf(wound, SOMEWHERE, withinM, apartM);
          expect(found.length).toBeGreaterThan(0);
          found.forEach(({ atM, offM }, i) => {
            expect(offM).toBeLessThanOrEqual(withinM);
            expect(Math.abs(metresApart(placeAt(wound, atM), SOMEWHERE) - offM)).toBeLessThan(0.5);
            const next = found[i + 1];
            if (next !== undefined) expect(next.atM - atM).toBeGreaterThanOrEqual(apartM);
          });
        },
      ),
      { numRuns: 60 },
    );
  });
});
