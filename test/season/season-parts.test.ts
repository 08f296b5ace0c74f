import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { manages } from '../../src/approach/vehicles.ts';
import { DESIGN } from '../../src/design.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { trailheadsOf } from '../../src/season/trailheads.ts';
import { kindsOf, packsFor } from '../../src/season/vehicle-packs.ts';
import { mountain } from '../support/fit-input.ts';

const vehicle = fc.record({
  seats: fc.integer({ min: 1, max: 9 }),
  clearance: fc.constantFrom('any' as const, 'high' as const, 'fourWheel' as const),
});
const road = fc.constantFrom('any' as const, 'high' as const, 'fourWheel' as const);

const headsOf = (routes: readonly Route[]) =>
  trailheadsOf({ routes: routes.map((route) => ({ route, id: null })), limits: [] }, DESIGN.season);

describe('sets of vehicles for a party', () => {
  it('are all that seat it, clear the road, are as many as the way takes and have none too many, each once', () => {
    fc.assert(
      fc.property(
        fc.array(vehicle, { maxLength: 6 }),
        fc.integer({ min: 1, max: 30 }),
        road,
        fc.integer({ min: 1, max: 3 }),
        (vehicles, party, need, least) => {
          const kinds = kindsOf(vehicles);
          const found = packsFor(party, need, least, kinds, 1000)?.map((pack) => pack.join()) ?? [];
          // Every subset of the vehicles, looked at.
          const expected = new Set<string>();
          for (let bits = 1; bits < 2 ** vehicles.length; bits += 1) {
            const some = vehicles.filter((_, i) => (bits >> i) % 2 === 1);
            const seats = some.reduce((sum, one) => sum + one.seats, 0);
            const isLean = some.length === least || some.every((one) => seats - one.seats < party);
            if (seats < party || some.length < least || !isLean || !some.every((one) => manages(one, need)))
              continue;
            expected.add(
              kinds
                .map(
                  (kind) =>
                    some.filter((one) => one.seats === kind.seats && one.clearance === kind.clearance).length,
                )
                .join(),
            );
          }
          expect(found.sort()).toEqual([...expected].sort());
        },
      ),
      { seed: 46, numRuns: 300 },
    );
  });

  it('are refused where they are too many to look at', () => {
    const vehicles = Array.from({ length: 20 }, (_, i) => ({ seats: 3 + i, clearance: 'any' as const }));
    expect(packsFor(100, 'any', 1, kindsOf(vehicles), 400)).toBeNull();
  });
});

describe('trailheads', () => {
  const at = (name: string | null, lonDeg: number, parkingSpaces: number | null = null) => {
    const route = mountain({ attributes: { trailhead: { name, parkingSpaces } } });
    return { ...route, trailhead: { ...route.trailhead, lonDeg, latDeg: 46 } };
  };
  const groups = (...routes: ReturnType<typeof at>[]) => headsOf(routes).map(({ routes: of }) => of);

  it('are one within 150 m, whatever they are called', () => {
    expect(groups(at('Mill', -30), at('The mill', -30.001), at(null, -30.0015))).toEqual([[0, 1, 2]]);
  });

  it('are one under one name when not far apart, and two when far', () => {
    expect(groups(at('Mill', -30), at(' mill', -30.02), at('Mill', -30.5))).toEqual([[0, 1], [2]]);
  });

  it('join when a route between them is found later', () => {
    expect(groups(at(null, -30), at(null, -30.0036), at(null, -30.0018))).toEqual([[0, 1, 2]]);
  });

  it('take the least of the parking that their routes state', () => {
    expect(headsOf([at('Mill', -30, 6), at('Mill', -30), at('Mill', -30, 0)])).toMatchObject([
      { name: 'Mill', parkingSpaces: 0 },
    ]);
    expect(headsOf([at(null, -30)])[0]?.parkingSpaces).toBeNull();
  });
});
