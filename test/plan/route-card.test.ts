import { describe, expect, it } from 'vitest';
import { DESIGN, withChanges } from '../../src/design.ts';
import { cardCautions, routeCardSections } from '../../src/document/route-card-text.ts';
import { declination } from '../../src/earth/declination.ts';
import { azimuthDeg, destination, geodesicM } from '../../src/earth/geodesic.ts';
import { gridReference } from '../../src/earth/grid-reference.ts';
import { type RouteCard, routeCard } from '../../src/plan/route-card.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { SOMEWHERE, thereAndBack, upAndDown } from '../support/elevated.ts';
import { ATTRIBUTES, DATE, heights, place, routeOf, timed, withGap } from './card-routes.ts';

const HILL = upAndDown(4000, 1000, 900);
const hill = routeOf({ heightsM: HILL, bearingsDeg: thereAndBack(HILL), name: 'Even Hill' });
const cardOf = (route: Route, date = DATE): RouteCard => routeCard(route, timed(route), date, DESIGN);
const sum = (card: RouteCard, of: (leg: RouteCard['legs'][number]) => number | null): number =>
  card.legs.reduce((total, leg) => total + (of(leg) ?? Number.NaN), 0);

describe('the route card', () => {
  const card = cardOf(hill);

  it('goes from the trailhead to the end without a break', () => {
    expect(card.legs[0]?.from.kind).toBe('trailhead');
    expect(card.legs.at(-1)?.to.kind).toBe('end');
    card.legs.slice(1).forEach((leg, i) => {
      expect(leg.from).toBe(card.legs[i]?.to);
    });
  });

  it('adds up to the route: length, climb, drop and time', () => {
    expect(sum(card, ({ alongM }) => alongM)).toBeCloseTo(hill.measures.distanceM, 6);
    expect(sum(card, ({ climbM }) => climbM)).toBeCloseTo(hill.measures.gainM?.value ?? -1, 6);
    expect(sum(card, ({ dropM }) => dropM)).toBeCloseTo(hill.measures.lossM?.value ?? -1, 6);
    expect(sum(card, ({ minutes }) => minutes?.p50 ?? null)).toBeCloseTo(hill.measures.distanceM / 50, 6);
    expect(sum(card, ({ minutes }) => minutes?.p90 ?? null)).toBeCloseTo(
      hill.measures.distanceM / 33.333333,
      3,
    );
  });

  it('gives each place its grid reference and each leg its bearing on the ellipsoid', () => {
    for (const { from, to, trueDeg, straightM } of card.legs) {
      expect(from.grid).toEqual(gridReference(from));
      expect(straightM).toBe(geodesicM(from, to));
      expect(trueDeg).toBe(azimuthDeg(from, to));
    }
    expect(card.legs[0]?.trueDeg).toBeCloseTo(90, 0);
    expect(card.legs.at(-1)?.trueDeg).toBeCloseTo(270, 0);
  });

  it('adds a westerly declination to the true bearing', () => {
    const [leg] = card.legs;
    const west = declination(SOMEWHERE, 1000, DATE)?.declinationDeg ?? Number.NaN;
    expect(west).toBeLessThan(-5);
    expect((leg?.magneticDeg ?? 0) - (leg?.trueDeg ?? 0)).toBeCloseTo(-west, 9);
    expect(cardCautions(card).join(' ')).toMatch(/Declination 9\.\d° west, give or take 0\.\d° \(WMM.*2025/);
  });

  it('gives no magnetic bearings outside the years of the model, and says so', () => {
    const late = cardOf(hill, '2031-07-11');
    expect(late.declination).toBeNull();
    expect(late.legs.map(({ magneticDeg }) => magneticDeg)).toEqual(late.legs.map(() => null));
    expect(late.legs[0]?.trueDeg).toBe(card.legs[0]?.trueDeg);
    expect(cardCautions(late).join(' ')).toContain('Magnetic bearings are not given');
  });

  it('names the ground above treeline on the legs that have it', () => {
    const above = (leg: RouteCard['legs'][number]) =>
      leg.hazards.some(({ kind }) => kind === 'aboveTreeline');
    expect(above(card.legs[0] ?? raise())).toBe(false);
    expect(card.legs.filter(({ to }) => to.kind === 'high').every(above)).toBe(true);
    const lengthM = card.legs
      .flatMap(({ hazards }) => hazards)
      .reduce((total, hazard) => total + (hazard.kind === 'aboveTreeline' ? hazard.lengthM : 0), 0);
    expect(lengthM).toBeCloseTo(hill.measures.aboveTreelineM ?? -1, 6);
  });

  it('says the class once', () => {
    expect(cardCautions(card).filter((text) => text.includes('2+'))).toHaveLength(1);
    expect(JSON.stringify(card.legs.map(({ hazards }) => hazards))).not.toContain('2+');
  });

  it('warns of a line that winds, and gives no bearing where it comes back to its start', () => {
    const heightsM = heights(1000, { count: 100, ratio: 0.2 }, { count: 100, ratio: -0.2 });
    const loop = routeOf({
      heightsM,
      bearingsDeg: heightsM.slice(1).map((_, i) => (i * 360) / 200),
    });
    const wholeWay = [
      place({ kind: 'trailhead', distanceM: 0, ...SOMEWHERE }),
      place({ kind: 'end', distanceM: loop.measures.distanceM, ...destination(SOMEWHERE, 0, 5) }),
    ].map((at) => ({ ...at, afterMin: null }));
    const winding = routeCard(loop, wholeWay, DATE, DESIGN);
    const [leg] = winding.legs;
    expect(leg).toMatchObject({ trueDeg: null, magneticDeg: null, isWinding: true, minutes: null });
    expect(card.legs.some(({ isWinding }) => isWinding)).toBe(false);
    expect(cardCautions(winding).join(' ')).toContain('follow the path, not the bearing');
  });

  it('makes one place of two checkpoints at one distance', () => {
    const aboveAll = routeOf(
      { heightsM: HILL, bearingsDeg: thereAndBack(HILL) },
      { ...ATTRIBUTES, treelineM: 500 },
    );
    const kinds = timed(aboveAll).map(({ kind }) => kind);
    expect(kinds.slice(0, 2)).toEqual(['trailhead', 'treelineUp']);
    const found = cardOf(aboveAll);
    expect(found.legs[0]?.from.kind).toBe('trailhead');
    expect(found.legs.at(-1)?.to.kind).toBe('end');
    expect(found.legs.every(({ alongM }) => alongM > 1)).toBe(true);
  });

  it('works without heights: what is not known is null and said', () => {
    const blank = routeOf({ heightsM: HILL.map(() => null), bearingsDeg: thereAndBack(HILL) });
    const found = cardOf(blank);
    expect(found.legs.length).toBeGreaterThan(0);
    for (const leg of found.legs) {
      expect(leg).toMatchObject({ climbM: null, dropM: null });
      expect(leg.hazards.map(({ kind }) => kind)).toContain('heightsMissing');
    }
    expect(JSON.stringify(found)).not.toMatch(/NaN/);
  });

  it('says that a line with a gap is longer than the card', () => {
    const gapped = describeRoute(withGap({ heightsM: HILL.slice(0, 200) }, 60, 75), DESIGN, {
      attributes: ATTRIBUTES,
    });
    expect(cardCautions(cardOf(gapped)).join(' ')).toContain('The line has gaps');
  });

  it('gives no grid reference beyond 84 degrees', () => {
    const north = [
      place({ kind: 'trailhead', distanceM: 0, lonDeg: 10, latDeg: 85 }),
      place({ kind: 'end', distanceM: 1000, lonDeg: 10, latDeg: 85.009 }),
    ].map((at) => ({ ...at, afterMin: null }));
    expect(routeCard(hill, north, DATE, DESIGN).legs[0]?.from.grid).toBeNull();
  });

  it('refuses checkpoints that go backwards', () => {
    expect(() => routeCard(hill, timed(hill).reverse(), DATE, DESIGN)).toThrow(RangeError);
  });

  it('follows the program’s own idea of steep', () => {
    const gentle = withChanges({ routeCard: { steepRatio: 0.1 } });
    const kinds = (design: typeof gentle) =>
      routeCard(hill, timed(hill), DATE, design).legs.flatMap(({ hazards }) =>
        hazards.map(({ kind }) => kind),
      );
    expect(kinds(DESIGN)).not.toContain('steep');
    expect(kinds(gentle)).toContain('steep');
  });
});

describe('the printed route card', () => {
  it('has a row for each leg and each place, in either unit', () => {
    const card = cardOf(hill);
    for (const units of ['metric', 'us'] as const) {
      const [legs, places] = routeCardSections(card, units);
      expect(legs?.table?.rows).toHaveLength(card.legs.length);
      expect(places?.table?.rows).toHaveLength(card.legs.length + 1);
      for (const part of [legs, places]) {
        for (const row of part?.table?.rows ?? []) expect(row).toHaveLength(part?.table?.columns.length ?? 0);
      }
      expect(JSON.stringify([legs, places])).not.toMatch(/NaN|undefined|null m/);
    }
  });

  it('prints what is not known as a dash', () => {
    const blank = routeOf({ heightsM: HILL.map(() => null), bearingsDeg: thereAndBack(HILL) });
    const [legs] = routeCardSections(
      routeCard(
        blank,
        timed(blank).map((at) => ({ ...at, afterMin: null })),
        '2031-07-11',
        DESIGN,
      ),
      'metric',
    );
    const row = legs?.table?.rows[0] ?? [];
    expect(row[3]).toBe('–');
    expect(row.slice(6, 10)).toEqual(['–', '–', '–', '–']);
  });
});

function raise(): never {
  throw new RangeError('no leg');
}
