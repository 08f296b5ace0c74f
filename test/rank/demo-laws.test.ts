import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRouteFiles } from '../../src/app/files.ts';
import { routesOf } from '../../src/app/measure.ts';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { fitPaceModel, quantileMin } from '../../src/capability/pace-model.ts';
import { NO_WALK } from '../../src/capability/quantities.ts';
import { arrivalsOf } from '../../src/day/arrivals.ts';
import { DESIGN } from '../../src/design.ts';
import type { Route } from '../../src/route/describe-route.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';

let surface: Surface;
let routes: Route[];

beforeAll(async () => {
  surface = await openSurface(['data/demo/dem']);
  const files = await readRouteFiles(['data/demo/routes']);
  routes = (await Promise.all(files.map((file) => routesOf(file, { surface, design: DESIGN })))).flat();
});
afterAll(() => surface.close());

const walked = fc.record({
  km: fc.double({ min: 2, max: 8, noNaN: true }),
  m: fc.double({ min: 50, max: 1000, noNaN: true }),
  upMin: fc.double({ min: 30, max: 500, noNaN: true }),
  downMin: fc.double({ min: 30, max: 500, noNaN: true }),
});
type Walked = { km: number; m: number; upMin: number; downMin: number };

function outing({ km, m, upMin, downMin }: Walked, slower: number): Outing {
  return {
    ...handOuting({ date: '2026-06-01', distanceM: 2000 * km, gainM: m, maxElevationM: 1500 }),
    parts: [
      { quantities: { ...NO_WALK, upKm: km, upM: m }, movingMin: slower * upMin },
      { quantities: { ...NO_WALK, downKm: km, downM: m }, movingMin: slower * downMin },
    ],
  };
}

/** Middle time of the whole day on each of the demo's routes, minutes. */
const middles = (outings: readonly Outing[]): number[] => {
  const pace = fitPaceModel(outings, DESIGN);
  return routes.map((route) => {
    const end = arrivalsOf(route, pace, DESIGN).at(-1);
    return end === undefined ? 0 : quantileMin(end.after, 0.5);
  });
};

describe('on the demo’s routes', () => {
  it('slowing every outing by one common factor never shortens a prediction', () => {
    fc.assert(
      fc.property(
        fc.array(walked, { minLength: 1, maxLength: 5 }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (days, slower) => {
          const before = middles(days.map((day) => outing(day, 1)));
          const after = middles(days.map((day) => outing(day, slower)));
          after.forEach((minutes, i) => {
            expect(minutes).toBeGreaterThanOrEqual((before[i] ?? 0) - 1e-6);
          });
        },
      ),
      { numRuns: 60, seed: 7 },
    );
  });
});
