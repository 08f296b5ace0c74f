import { describe, expect, it } from 'vitest';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { alongRoute } from '../../src/route/along.ts';
import type { Route } from '../../src/route/describe-route.ts';

/** A line due north that climbs 10 % to its middle and is level from there; a void at the end. */
const from = { lonDeg: -30.2, latDeg: 46.1 };
const to = { lonDeg: -30.2, latDeg: 46.12 };
const lengthM = geodesicM(from, to);
const profile: [number, number | null][] = [
  [0, 1000],
  [1000, 1100],
  [2000, 1100],
  [lengthM, null],
];
const route = {
  line: [
    [
      [from.lonDeg, from.latDeg],
      [to.lonDeg, to.latDeg],
    ],
  ],
  profile,
  measures: { distanceM: lengthM },
} as unknown as Route;

describe('along a route', () => {
  const steps = alongRoute(route);
  const near = (distanceM: number) =>
    steps.reduce((best, step) =>
      Math.abs(step.distanceM - distanceM) < Math.abs(best.distanceM - distanceM) ? step : best,
    );

  it('has even steps from end to end', () => {
    expect(steps[0]).toMatchObject({ ...from, distanceM: 0 });
    expect(steps.at(-1)?.distanceM).toBeCloseTo(lengthM, 6);
    expect(steps.at(-1)?.latDeg).toBeCloseTo(to.latDeg, 6);
    expect(steps.length).toBeGreaterThan(100);
  });

  it('says height and slope in the direction of the walk', () => {
    expect(near(500).heightM).toBeCloseTo(1000 + near(500).distanceM / 10, 6);
    expect(near(500).slopeRatio).toBeCloseTo(0.1, 6);
    expect(near(1500).slopeRatio).toBeCloseTo(0, 6);
    expect(near(0).slopeRatio).toBeCloseTo(0.1, 6);
  });

  it('says nothing where the height is not known', () => {
    expect(steps.at(-1)).toMatchObject({ heightM: null, slopeRatio: null });
  });
});
