import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { destination, geodesicM } from '../../src/earth/geodesic.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { Waypoint } from '../../src/ingest/track.ts';
import { checkpointsOf, mainPlacesOf, type RoutePlace } from '../../src/route/checkpoints.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { linePointsOf, placeAt } from '../../src/route/place-at.ts';
import { heights, routeOf } from '../plan/card-routes.ts';
import { type Drawn, elevated, thereAndBack } from '../support/elevated.ts';
import { mountain } from '../support/fit-input.ts';

const SETTINGS = DESIGN.checkpoints;
const MAIN = new Set(['trailhead', 'treelineUp', 'high', 'treelineDown', 'end']);
const of = (route: Route): RoutePlace[] => checkpointsOf(route, SETTINGS);
const kinds = (places: readonly RoutePlace[]) => places.map(({ kind }) => kind);
const found = (route: Route, kind: RoutePlace['kind']): RoutePlace[] =>
  of(route).filter((place) => place.kind === kind);
const atOf = (places: readonly RoutePlace[]) => places.map(({ distanceM }) => Math.round(distanceM));

/** The route with places of a file beside its line: metres along it, name, metres off it. */
function marked(route: Route, ...marks: readonly (readonly [number, string | null, number?])[]): Route {
  const line = linePointsOf(route);
  const waypoints = marks.map(
    ([atM, name, offM = 0]): Waypoint => ({ name, ...destination(placeAt(line, atM), 0, offM) }),
  );
  return { ...route, waypoints };
}

/** Up as drawn and back the same way. */
function outAndBack(up: readonly number[], bearingsUp: readonly number[] | number = 90): Route {
  const turns = typeof bearingsUp === 'number' ? up.slice(1).map(() => bearingsUp) : bearingsUp;
  const drawn: Drawn = {
    heightsM: [...up, ...up.slice(0, -1).reverse()],
    bearingsDeg: [...turns, ...turns.map((bearing) => (bearing + 180) % 360).reverse()],
  };
  return routeOf(drawn, { rockClass: '1', treelineM: 5000, surface: 'trail' });
}

/** A gentle way, so that nothing but its bends stands out. */
const gentle = (count: number): number[] => heights(200, { count, ratio: 0.03 });

/** Legs of a winding path, metres each, turning by 120°. */
function winding(legM: number, legs: number): number[] {
  const straight = Array.from({ length: 60 }, () => 0);
  const row = Array.from({ length: legs }, (_, i) =>
    Array.from({ length: Math.round(legM / 20) }, () => (i % 2 === 0 ? 60 : 300)),
  ).flat();
  return [...straight, ...row, ...straight];
}

describe('mainPlacesOf', () => {
  it('has the five in order on a mountain that crosses treeline', () => {
    const main = mainPlacesOf(mountain());
    expect(main.map(({ kind }) => kind)).toEqual(['trailhead', 'treelineUp', 'high', 'treelineDown', 'end']);
    // 1,200 m to 2,000 m over 4 km: treeline at 1,800 m is 3 km up.
    expect(main.map(({ distanceM }) => Math.round(distanceM))).toEqual([0, 3000, 4000, 5000, 8000]);
  });

  it('knows no treeline where none is stated, and none is crossed below it', () => {
    const without = mountain({ attributes: { rockClass: '2', surface: 'trail' } });
    expect(mainPlacesOf(without).map(({ kind }) => kind)).toEqual(['trailhead', 'high', 'end']);
    const low = mountain({ attributes: { rockClass: '2', treelineM: 2500 } });
    expect(mainPlacesOf(low).map(({ kind }) => kind)).toEqual(['trailhead', 'high', 'end']);
  });

  it('begins and ends above a treeline below the trailhead', () => {
    const main = mainPlacesOf(mountain({ attributes: { rockClass: '2', treelineM: 900 } }));
    expect(main.map(({ kind, distanceM }) => [kind, Math.round(distanceM)])).toEqual([
      ['trailhead', 0],
      ['treelineUp', 0],
      ['high', 4000],
      ['treelineDown', 8000],
      ['end', 8000],
    ]);
    expect(kinds(of(mountain({ attributes: { rockClass: '2', treelineM: 900 } })))[1]).toBe('treelineUp');
  });
});

describe('checkpointsOf', () => {
  it('lies on the line, with the height of the ground there', () => {
    const route = marked(mountain(), [1000, 'Ford']);
    const line = linePointsOf(route);
    for (const place of of(route)) {
      expect(geodesicM(place, placeAt(line, place.distanceM))).toBeLessThan(1e-6);
      const climbedM = 4000 - Math.abs(4000 - place.distanceM);
      expect(place.elevationM).toBeCloseTo(1200 + 0.2 * climbedM, 0);
      expect(place.goingUp).toBe(place.distanceM <= 4000);
      // At treeline itself the higher side counts.
      expect(place.aboveTreeline).toBe((place.elevationM ?? 0) >= 1799.9);
    }
  });

  it('stands in order from the trailhead to the end, what was chosen never nearer than the settings say', () => {
    const grade = fc.record({
      count: fc.integer({ min: 5, max: 120 }),
      ratio: fc.double({ min: -0.4, max: 0.4, noNaN: true }),
    });
    const mark = fc.tuple(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.constantFrom(null, '', 'Ford', 'Hut'),
      fc.integer({ min: 0, max: 90 }),
    );
    fc.assert(
      fc.property(
        fc.array(grade, { minLength: 1, maxLength: 6 }),
        fc.array(fc.integer({ min: 0, max: 359 }), { minLength: 1, maxLength: 12 }),
        fc.array(mark, { maxLength: 6 }),
        fc.boolean(),
        fc.constantFrom<RouteAttributes>({}, { treelineM: 1000 }, { treelineM: 1000, rockClass: '2' }),
        (grades, turns, marks, both, attributes) => {
          const up = heights(1000, ...grades);
          const bearings = up.slice(1).map((_, i) => turns[Math.floor(i / 30) % turns.length] ?? 0);
          const drawn: Drawn = both
            ? {
                heightsM: [...up, ...up.slice(0, -1).reverse()],
                bearingsDeg: [...bearings, ...bearings.map((b) => (b + 180) % 360).reverse()],
              }
            : { heightsM: up, bearingsDeg: bearings };
          const bare = routeOf(drawn, attributes);
          const route = marked(
            bare,
            ...marks.map(([share, name, offM]) => [share * bare.measures.distanceM, name, offM] as const),
          );
          const places = of(route);
          expect(places[0]?.kind).toBe('trailhead');
          expect(places.at(-1)?.kind).toBe('end');
          places.forEach((place, i) => {
            expect(Object.values(place).some(Number.isNaN)).toBe(false);
            const before = places[i - 1];
            if (before === undefined) return;
            const apartM = place.distanceM - before.distanceM;
            expect(apartM).toBeGreaterThanOrEqual(0);
            if (!MAIN.has(place.kind) || !MAIN.has(before.kind)) {
              expect(apartM).toBeGreaterThanOrEqual(SETTINGS.apartM - 1e-6);
            }
          });
          expect(kinds(places).filter((kind) => MAIN.has(kind))).toEqual(
            mainPlacesOf(route).map(({ kind }) => kind),
          );
        },
      ),
      { numRuns: 60 },
    );
  });

  describe('places of the file', () => {
    it('are met both ways on an out and back', () => {
      const named = found(marked(mountain(), [2000, 'Ford'], [1000, 'Old Bridge', 40]), 'waypoint');
      expect(named.map(({ name, distanceM }) => [name, Math.round(distanceM)])).toEqual([
        ['Old Bridge', 1000],
        ['Ford', 2000],
        ['Ford', 6000],
        ['Old Bridge', 7000],
      ]);
    });

    it('are kept without a name, and left out far from the line', () => {
      const places = found(marked(mountain(), [2000, null], [1000, '  '], [1500, 'Far Hut', 90]), 'waypoint');
      expect(places.map(({ name }) => name)).toEqual(['', '', '', '']);
      expect(atOf(places)).toEqual([1000, 2000, 6000, 7000]);
    });

    it('give their names to start, top and end', () => {
      const route = marked(mountain(), [0, 'Mill', 30], [4000, 'Grey Horn', 10]);
      expect(of(route).flatMap(({ kind, name }) => (name === '' ? [] : [[kind, name]]))).toEqual([
        ['trailhead', 'Mill'],
        ['high', 'Grey Horn'],
        ['end', 'Mill'],
      ]);
    });

    it('give way to the trailhead’s stated name', () => {
      const stated = mountain({ attributes: { treelineM: 1800, trailhead: { name: 'Car park' } } });
      const names = of(marked(stated, [0, 'Mill'])).map(({ name }) => name);
      expect([names[0], names.at(-1)]).toEqual(['Car park', 'Car park']);
    });

    it('name the end of a one-way line by itself', () => {
      const route = routeOf({
        heightsM: heights(200, { count: 100, ratio: 0.2 }, { count: 100, ratio: -0.18 }),
      });
      expect(route.measures.shape).toBe('oneWay');
      const places = of(marked(route, [0, 'Mill'], [4000, 'Harbour']));
      expect([places[0]?.name, places.at(-1)?.name]).toEqual(['Mill', 'Harbour']);
      expect(of(marked(route, [0, 'Mill'])).at(-1)?.name).toBe('');
    });

    it('are two of one place where they lie nearer than the settings say', () => {
      expect(atOf(found(marked(mountain(), [2000, 'Ford'], [2100, 'Sign']), 'waypoint'))).toEqual([
        2000, 6000,
      ]);
    });

    it('count stated water with a name, and not without one', () => {
      const route = mountain();
      const { latDeg, lonDeg } = placeAt(linePointsOf(route), 1400);
      const other = placeAt(linePointsOf(route), 2200);
      const watered: Route = {
        ...route,
        attributes: {
          ...route.attributes,
          waterPoints: [
            { name: 'Cold Spring', lat: latDeg, lon: lonDeg, notes: null },
            { name: null, lat: other.latDeg, lon: other.lonDeg, notes: null },
          ],
        },
      };
      expect(found(watered, 'waypoint').map(({ name, distanceM }) => [name, Math.round(distanceM)])).toEqual([
        ['Cold Spring', 1400],
        ['Cold Spring', 6600],
      ]);
    });

    it('are no more than the settings say', () => {
      const many = Array.from({ length: 100 }, (_, i) => [400 + i * 30, `Post ${i + 1}`] as const);
      expect(found(marked(mountain({ lengthUpM: 20000 }), ...many), 'waypoint').length).toBeLessThanOrEqual(
        SETTINGS.mostNamed,
      );
    });

    it('leave nothing to choose where two lie on the way up', () => {
      const chosen = (route: Route) => of(route).filter(({ kind }) => kind === 'onTheWay').length;
      expect(chosen(mountain())).toBeGreaterThan(0);
      expect(chosen(marked(mountain(), [800, 'Ford'], [2200, 'Gate']))).toBe(0);
    });
  });

  describe('what is chosen from the line', () => {
    it('is a bend that stands alone, met again on the way back', () => {
      const corner = Array.from({ length: 200 }, (_, i) => (i < 100 ? 0 : 90));
      const bends = found(outAndBack(gentle(200), corner), 'bend');
      expect(bends).toHaveLength(2);
      expect(Math.abs((bends[0]?.distanceM ?? 0) - 2000)).toBeLessThanOrEqual(40);
      expect(Math.abs((bends[1]?.distanceM ?? 0) - 6000)).toBeLessThanOrEqual(40);
      expect(bends.map(({ goingUp }) => goingUp)).toEqual([true, false]);
    });

    it.each([40, 60, 80, 100, 120, 160, 200, 240])('is no bend of a row of switchbacks of %i m', (legM) => {
      const turns = winding(legM, 12);
      expect(atOf(found(outAndBack(gentle(turns.length), turns), 'bend'))).toEqual([]);
    });

    it('is a shoulder where a climb eases, and not its foot', () => {
      const steep = { count: 75, ratio: 0.25 };
      const easy = { count: 75, ratio: 0.03 };
      const eases = found(outAndBack(heights(200, steep, easy)), 'shoulder');
      expect(eases).toHaveLength(2);
      expect(Math.abs((eases[0]?.distanceM ?? 0) - 1500)).toBeLessThanOrEqual(200);
      expect(found(outAndBack(heights(200, easy, steep)), 'shoulder')).toEqual([]);
    });

    it('parts a long even climb by its height, and a long level way by its length', () => {
      // 600 m to treeline, longClimbM 300: one place at its middle.
      expect(atOf(found(mountain(), 'onTheWay'))).toEqual([1500, 6500]);
      const level = outAndBack(heights(200, { count: 300, ratio: 0.02 }));
      expect(atOf(found(level, 'onTheWay'))).toEqual([2000, 4000, 8000, 10000]);
    });

    it('parts a climb of uneven grade where the height is', () => {
      const uneven = outAndBack(heights(200, { count: 75, ratio: 0.16 }, { count: 75, ratio: 0.24 }));
      const [first] = found(uneven, 'onTheWay');
      expect(first?.elevationM).toBeGreaterThanOrEqual(500);
      expect(first?.elevationM).toBeLessThan(505);
    });

    it('is nothing where heights are missing', () => {
      const up = heights(1200, { count: 200, ratio: 0.2 });
      const heightsM = [...up, ...up.slice(0, -1).reverse()].map((height, i) =>
        i >= 100 && i < 110 ? null : height,
      );
      const route = routeOf({ heightsM, bearingsDeg: thereAndBack(heightsM.map(() => 0)) });
      expect(route.heightsMissing).toBe(true);
      expect(kinds(of(route)).filter((kind) => !MAIN.has(kind))).toEqual([]);
      expect(kinds(of(marked(route, [1000, 'Ford'])))).toContain('waypoint');
    });

    it('is nothing on a line of which no height is known, whose ends still stand', () => {
      const heightsM = Array.from({ length: 401 }, () => null);
      expect(of(routeOf({ heightsM }))).toMatchObject([
        { kind: 'trailhead', elevationM: null, aboveTreeline: null },
        { kind: 'end', elevationM: null, aboveTreeline: null },
      ]);
    });

    it('looks at another way down as well', () => {
      const up = heights(200, { count: 150, ratio: 0.2 });
      const down = heights(800, { count: 150, ratio: -0.2 });
      const loop = routeOf(
        {
          heightsM: [...up, ...down.slice(1)],
          // A triangle with its top at one corner, closed to a few metres.
          bearingsDeg: Array.from({ length: 300 }, (_, i) => (i < 100 ? 0 : i < 200 ? 120 : 240)),
        },
        { treelineM: 5000 },
      );
      expect(loop.measures.shape).toBe('loop');
      const places = of(loop).filter(({ kind }) => !MAIN.has(kind));
      expect(places.some(({ goingUp }) => goingUp)).toBe(true);
      expect(places.some(({ goingUp }) => !goingUp)).toBe(true);
    });

    it('goes on beyond a high point that is passed before the turn', () => {
      // Over a pass at 3 km to a lake 4 km beyond, and back the same way.
      const up = heights(200, { count: 150, ratio: 0.15 }, { count: 200, ratio: -0.1 });
      const places = of(outAndBack(up));
      const distances = places.map(({ distanceM }) => distanceM);
      distances.slice(1).forEach((distanceM, i) => {
        expect(distanceM - (distances[i] ?? 0)).toBeLessThanOrEqual(2 * SETTINGS.longWayM);
      });
    });
  });

  it('does not know which side of an unknown treeline a high place lies on', () => {
    const route = mountain({ attributes: { rockClass: '2', surface: 'trail' } });
    expect(found(route, 'high')[0]?.aboveTreeline).toBeNull();
  });

  it('answers for 480 km with 1,000 places in the file', () => {
    const heightsM = Array.from({ length: 24_001 }, (_, i) => 1000 + 600 * Math.sin(i / 150));
    const bearingsDeg = heightsM.slice(1).map((_, i) => (i % 40 < 20 ? 60 : 120));
    const long = describeRoute(elevated({ heightsM, bearingsDeg }), DESIGN, {
      attributes: { treelineM: 1300 },
    });
    const line = linePointsOf(long);
    const marks = Array.from(
      { length: 1000 },
      (_, i): Waypoint => ({
        name: i % 3 === 0 ? null : `Post ${i}`,
        ...placeAt(line, i * 480),
      }),
    );
    const places = of({ ...long, waypoints: marks });
    expect(places.filter(({ kind }) => kind === 'waypoint')).toHaveLength(SETTINGS.mostNamed);
  });
});
