import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { legGroundsOf } from '../../src/plan/leg-ground.ts';
import { lineGapsM } from '../../src/plan/line-gaps.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { ATTRIBUTES, heights, routeOf, withGap } from './card-routes.ts';

const UNEVEN = heights(
  1000,
  { count: 50, ratio: 0.1 },
  { count: 40, ratio: 0.4 },
  { count: 20, ratio: -0.05 },
  { count: 60, ratio: 0.2 },
  { count: 80, ratio: -0.35 },
);
const groundOf = (route: Route, fromM: number, toM: number) => legGroundsOf(route, DESIGN)(fromM, toM);

describe('the ground of a leg', () => {
  const route = routeOf({ heightsM: UNEVEN });
  const lengthM = route.measures.distanceM;

  it('climbs and drops over all legs what the route does, wherever it is cut', () => {
    const whole = groundOf(route, 0, lengthM);
    expect(whole.climbM).toBeCloseTo(route.measures.gainM?.value ?? -1, 6);
    expect(whole.dropM).toBeCloseTo(route.measures.lossM?.value ?? -1, 6);
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.001, max: 0.999, noNaN: true }), { maxLength: 6 }),
        (shares) => {
          const cuts = [0, ...new Set([...shares].sort((a, b) => a - b)), 1].map((share) => share * lengthM);
          const legs = cuts.slice(1).map((toM, i) => groundOf(route, cuts[i] ?? 0, toM));
          const sum = (of: (leg: (typeof legs)[number]) => number | null) =>
            legs.reduce((total, leg) => total + (of(leg) ?? Number.NaN), 0);
          expect(sum(({ climbM }) => climbM)).toBeCloseTo(whole.climbM ?? -1, 6);
          expect(sum(({ dropM }) => dropM)).toBeCloseTo(whole.dropM ?? -1, 6);
          expect(sum(({ aboveTreelineM }) => aboveTreelineM)).toBeCloseTo(whole.aboveTreelineM, 6);
        },
      ),
    );
  });

  it('has the steepest grade of the route in one of its legs, and tells up from down', () => {
    const halves = [groundOf(route, 0, 2500), groundOf(route, 2500, lengthM)];
    const steepest = Math.max(...halves.map(({ steepestRatio }) => Math.abs(steepestRatio ?? 0)));
    expect(steepest).toBeCloseTo(route.measures.steepestSustainedRatio ?? -1, 9);
    expect(halves[0]?.steepestRatio).toBeCloseTo(0.4, 6);
    expect(halves[1]?.steepestRatio).toBeCloseTo(-0.35, 6);
  });

  it('climbs on the steep part of a piece and not on its flat part', () => {
    const flatThenSteep = routeOf({
      heightsM: heights(1010, { count: 100, ratio: 0.01 }, { count: 25, ratio: 0.4 }),
    });
    const [flat, steep] = [groundOf(flatThenSteep, 0, 1800), groundOf(flatThenSteep, 1800, 2500)];
    expect(flat.climbM).toBeCloseTo(18, 0);
    expect(steep.climbM).toBeCloseTo(202, 0);
  });

  it('has no climb where heights are missing, and may lie above treeline there', () => {
    const heightsM = UNEVEN.map((height, i) => (i >= 100 && i < 130 ? null : height));
    const torn = routeOf({ heightsM });
    const leg = groundOf(torn, 1800, 2800);
    expect(leg.climbM).toBeNull();
    expect(leg.dropM).toBeNull();
    expect(leg.maybeAboveTreelineM).toBeGreaterThan(500);
    // The heights are smoothed over 60 m where the grade changes.
    expect(groundOf(torn, 0, 1000).climbM).toBeCloseTo(100, -0.3);
  });

  it('may all lie above treeline where there are no heights at all', () => {
    const blank = routeOf({ heightsM: UNEVEN.map(() => null) });
    const leg = groundOf(blank, 0, 1000);
    expect(leg.maybeAboveTreelineM).toBe(1000);
    expect(leg.steepestRatio).toBeNull();
  });

  it('has no climb across a gap of the line, and the gap belongs to the leg that ends behind it', () => {
    const gapped = describeRoute(withGap({ heightsM: UNEVEN }, 60, 75), DESIGN, { attributes: ATTRIBUTES });
    expect(lineGapsM(gapped)).toEqual([expect.closeTo(1200, 3)]);
    const [gapM = 0] = lineGapsM(gapped);
    expect(groundOf(gapped, 600, gapM)).toMatchObject({ hasGap: true, climbM: null });
    expect(groundOf(gapped, gapM, 2000).hasGap).toBe(false);
  });

  it('is rough above treeline from class 2 on where the surface is not stated', () => {
    const unstated = routeOf({ heightsM: UNEVEN }, { rockClass: '2+', treelineM: 1200 });
    expect(groundOf(unstated, 0, 800).surface).toBe('trail');
    expect(groundOf(unstated, 0, 2400).surface).toBe('rough');
    const talus = routeOf({ heightsM: UNEVEN }, { treelineM: 1200, surface: 'talus' });
    expect(groundOf(talus, 0, 800).surface).toBe('talus');
  });
});

describe('the gaps of a line', () => {
  it('are none where the way back begins at the top', () => {
    const upOnly = routeOf({ heightsM: heights(1000, { count: 100, ratio: 0.2 }) });
    expect(upOnly.line).toHaveLength(2);
    expect(lineGapsM(upOnly)).toEqual([]);
  });
});
