import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitPaceModel, quantileMin } from '../../src/capability/pace-model.ts';
import { type Quantities, totalQuantities } from '../../src/capability/quantities.ts';
import { mealMinOf, type Stretch, walkingOf, withStops } from '../../src/day/walking.ts';
import { DESIGN } from '../../src/design.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { elevated } from '../support/elevated.ts';
import { mountain, shownDay } from '../support/fit-input.ts';

const pace = fitPaceModel([shownDay(9000, 800)], DESIGN);
const TRAIL: RouteAttributes = { rockClass: '1', treelineM: 1500, surface: 'trail' };
const QUANTITIES = ['upKm', 'upM', 'downKm', 'downM'] as const;

/** A way over heights of any kind: grades of some length, and the ripple of a real profile on them. */
const wayLaw = fc
  .record({
    grades: fc.array(
      fc.record({
        count: fc.integer({ min: 3, max: 60 }),
        ratio: fc.double({ min: -0.35, max: 0.35, noNaN: true }),
      }),
      { minLength: 1, maxLength: 6 },
    ),
    rippleM: fc.constantFrom(0, 2, 4),
  })
  .map(({ grades, rippleM }) => {
    const heightsM = [1400];
    for (const { count, ratio } of grades) {
      for (let i = 0; i < count; i += 1) heightsM.push((heightsM.at(-1) ?? 0) + 20 * ratio);
    }
    return describeRoute(
      elevated({ heightsM: heightsM.map((height, i) => height + rippleM * Math.sin(i * 1.3)) }),
      DESIGN,
      { attributes: TRAIL, addWayBack: false },
    );
  });
const share = fc.double({ min: 0, max: 1, noNaN: true });
const lengthOf = (route: Route): number => route.measures.distanceM;

function expectSame(a: Stretch, b: Stretch): void {
  for (const key of QUANTITIES) expect(a.walk[key]).toBeCloseTo(b.walk[key], 6);
  expect(a.climbM).toBeCloseTo(b.climbM, 6);
  expect(a.lengthM).toBeCloseTo(b.lengthM, 6);
  expect(a.groundDoubtM).toBeCloseTo(b.groundDoubtM, 6);
  expect(a.rockM).toBeCloseTo(b.rockM, 6);
}
const sum = (a: Stretch, b: Stretch): Stretch => ({
  walk: Object.fromEntries(
    QUANTITIES.map((key) => [key, a.walk[key] + b.walk[key]]),
  ) as unknown as Quantities,
  climbM: a.climbM + b.climbM,
  lengthM: a.lengthM + b.lengthM,
  groundDoubtM: a.groundDoubtM + b.groundDoubtM,
  rockM: a.rockM + b.rockM,
});

describe('walkingOf', () => {
  it('walks all of the route in one go as its pieces are', () => {
    const route = mountain({ baseM: 100, attributes: TRAIL });
    const whole = walkingOf(route, { ...pace, trainingElevationM: 5000 }, DESIGN).onward(0, lengthOf(route));
    const plain = totalQuantities(route.pieces);
    // On trail and below the height of the training nothing is added.
    for (const key of QUANTITIES) expect(whole.walk[key]).toBeCloseTo(plain[key], 9);
    expect(whole.climbM).toBeCloseTo(800, 6);
    expect(whole.lengthM).toBeCloseTo(8000, 6);
  });

  it('is the sum of its parts, wherever it is parted', () => {
    fc.assert(
      fc.property(wayLaw, share, share, (route, a, b) => {
        const { onward, back } = walkingOf(route, pace, DESIGN);
        const toM = b * lengthOf(route);
        const atM = a * toM;
        expectSame(sum(onward(0, atM), onward(atM, toM)), onward(0, toM));
        expectSame(sum(back(toM, atM), back(atM, 0)), back(toM, 0));
      }),
      { numRuns: 60 },
    );
  });

  it('climbs on the way back what it dropped on the way out', () => {
    fc.assert(
      fc.property(wayLaw, share, share, (route, a, b) => {
        const { onward, back } = walkingOf(route, { ...pace, trainingElevationM: 9000 }, DESIGN);
        const [fromM, toM] = [Math.min(a, b) * lengthOf(route), Math.max(a, b) * lengthOf(route)];
        const out = onward(fromM, toM);
        const home = back(toM, fromM);
        expect(home.climbM).toBeCloseTo(out.walk.downM, 6);
        expect(home.walk.downM).toBeCloseTo(out.climbM, 6);
        expect(home.lengthM).toBeCloseTo(out.lengthM, 6);
        expect(home.groundDoubtM).toBeCloseTo(out.groundDoubtM, 6);
      }),
      { numRuns: 60 },
    );
  });

  it('never takes less for a longer stretch, and never less than no time', () => {
    fc.assert(
      fc.property(wayLaw, share, share, share, (route, a, b, c) => {
        const { onward, back, timeOf } = walkingOf(route, pace, DESIGN);
        const [fromM = 0, atM = 0, toM = 0] = [a, b, c]
          .map((part) => part * lengthOf(route))
          .sort((x, y) => x - y);
        const mean = (stretch: Stretch) => timeOf(stretch).meanMin;
        expect(mean(onward(fromM, atM))).toBeGreaterThanOrEqual(0);
        expect(mean(onward(fromM, toM))).toBeGreaterThanOrEqual(mean(onward(fromM, atM)) - 1e-9);
        expect(mean(back(toM, fromM))).toBeGreaterThanOrEqual(mean(back(atM, fromM)) - 1e-9);
        const late = (stretch: Stretch) => quantileMin(timeOf(stretch), 0.9);
        expect(late(onward(0, toM))).toBeGreaterThanOrEqual(mean(onward(0, toM)) - 1e-9);
      }),
      { numRuns: 100 },
    );
  });

  it('takes no less at the worst metre of a rippled climb', () => {
    // Dips that are smoothed away are no descent: nothing is walked in less than no time.
    const heightsM = Array.from({ length: 201 }, (_, i) => 1000 + 4 * i + (i % 10 === 9 ? -12 : 0));
    const route = describeRoute(elevated({ heightsM }), DESIGN, { attributes: TRAIL, addWayBack: false });
    const { onward, timeOf } = walkingOf(route, pace, DESIGN);
    let before = 0;
    for (let atM = 0; atM <= 4000; atM += 5) {
      const { meanMin } = timeOf(onward(0, atM));
      expect(meanMin).toBeGreaterThanOrEqual(before - 1e-9);
      before = meanMin;
    }
  });

  it('is nothing at one place', () => {
    const { onward, timeOf } = walkingOf(mountain(), pace, DESIGN);
    expect(timeOf(onward(1500, 1500)).meanMin).toBe(0);
    expect(timeOf().meanMin).toBe(0);
    expect(onward(9000, 9500).lengthM).toBe(0);
  });

  it('carries in the doubt of the ground and of the gain', () => {
    const scale = (route: Route) => {
      const { onward, timeOf } = walkingOf(route, pace, DESIGN);
      const { meanMin, scaleMin } = timeOf(onward(0, lengthOf(route)));
      return scaleMin / meanMin;
    };
    const trail = mountain({ attributes: TRAIL });
    expect(scale(mountain({ attributes: { ...TRAIL, surface: 'snow' } }))).toBeGreaterThan(scale(trail));
    const { gainM } = trail.measures;
    expect(gainM).not.toBeNull();
    if (gainM === null) return;
    const doubtful = {
      ...trail,
      measures: { ...trail.measures, gainM: { ...gainM, high: 1.5 * gainM.value } },
    };
    expect(scale(doubtful)).toBeGreaterThan(scale(trail));
  });
});

describe('withStops', () => {
  it('stretches the time and its doubt by the group’s stops, which have a doubt of their own, and adds a meal without', () => {
    const stops = { ...pace, stopsMinPerHour: 12, stopsSpreadMinPerHour: 3 };
    expect(withStops({ meanMin: 100, scaleMin: 10, degreesOfFreedom: 7 }, stops, 30)).toEqual({
      meanMin: 150,
      // 10 × 1.2, and 100 × 3/60 of the stops.
      scaleMin: 13,
      degreesOfFreedom: 7,
    });
  });
});

describe('mealMinOf', () => {
  it('is a meal from the stated length of day on', () => {
    const { mealFromMovingMin, mealMin } = DESIGN.day;
    expect([mealFromMovingMin - 0.1, mealFromMovingMin].map((min) => mealMinOf(min, DESIGN.day))).toEqual([
      0,
      mealMin,
    ]);
  });
});
