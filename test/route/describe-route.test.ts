import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN, withChanges } from '../../src/design.ts';
import { describeRoute } from '../../src/route/describe-route.ts';
import { elevated, FINE_TILE, thereAndBack, upAndDown } from '../support/elevated.ts';

const hill = upAndDown(4000, 1200, 800);
const outAndBack = elevated({ heightsM: hill, bearingsDeg: thereAndBack(hill) });
const stated = { treelineM: 1800 };

describe('describeRoute', () => {
  const route = describeRoute(outAndBack, DESIGN, { attributes: stated });

  it('measures distance, gain, loss and the highest point of a climb and its way back', () => {
    expect(route.measures.distanceM).toBe(8000);
    expect(route.measures.gainM?.value).toBeCloseTo(800, 0);
    expect(route.measures.lossM?.value).toBeCloseTo(800, 0);
    expect(route.measures.highM).toBe(2000);
    expect(route.measures.shape).toBe('outAndBack');
  });

  it('gives the gain as a band that holds the true climb', () => {
    const { gainM } = route.measures;
    expect(gainM?.low).toBeLessThanOrEqual(800);
    expect(gainM?.high).toBeGreaterThanOrEqual(800);
    expect((gainM?.high ?? 0) - (gainM?.low ?? 0)).toBeLessThan(0.1 * 800);
  });

  it('times the ground above treeline by the trade rule', () => {
    // 2 × 1,000 m on the plan and 200 m of climb: 2 × 18.64 min + 200/304.8 h (common practice, no source)
    expect(route.measures.aboveTreelineM).toBeCloseTo(2000, -1);
    expect(route.measures.aboveTreelineMin).toBeCloseTo(2 * 18.641 + (200 / 304.8) * 60, 0);
  });

  it('splits the walk into pieces that add up to the whole', () => {
    const sum = (of: (piece: (typeof route.pieces)[number]) => number) =>
      route.pieces.reduce((total, piece) => total + of(piece), 0);
    expect(sum((piece) => piece.horizontalM)).toBeCloseTo(8000, 6);
    expect(sum((piece) => piece.climbM)).toBeCloseTo(route.measures.gainM?.value ?? 0, 6);
    expect(sum((piece) => piece.dropM)).toBeCloseTo(route.measures.lossM?.value ?? 0, 6);
    expect(route.pieces.every((piece) => piece.toM > piece.fromM)).toBe(true);
  });

  it('says that treeline is unknown where nothing states it, and what to state', () => {
    const unknown = describeRoute(outAndBack, DESIGN);
    expect(unknown.measures.treelineM).toBeNull();
    expect(unknown.measures.treelineSource).toBe('unknown');
    expect(unknown.measures.aboveTreelineM).toBeNull();
    expect(unknown.measures.aboveTreelineRangeM?.high).toBe(8000);
    expect(unknown.notes.map((note) => note.code)).toContain('treeline-unknown');
  });

  it('takes the program’s treeline where the route states none, and the route’s where both do', () => {
    const design = withChanges({ treeline: { programM: 1900 } });
    expect(describeRoute(outAndBack, design).measures).toMatchObject({
      treelineM: 1900,
      treelineSource: 'program',
    });
    expect(describeRoute(outAndBack, design, { attributes: stated }).measures).toMatchObject({
      treelineM: 1800,
      treelineSource: 'route',
    });
  });

  it('counts a treeline of 0 m as stated', () => {
    const shore = describeRoute(outAndBack, DESIGN, { attributes: { treelineM: 0 } });
    expect(shore.measures.treelineM).toBe(0);
    expect(shore.measures.aboveTreelineM).toBeCloseTo(8000, 6);
  });

  it('knows that low ground lies below any believable treeline', () => {
    const low = upAndDown(3000, 100, 300);
    const walk = describeRoute(elevated({ heightsM: low, bearingsDeg: thereAndBack(low) }), DESIGN);
    expect(walk.measures.aboveTreelineM).toBe(0);
    expect(walk.measures.treelineSource).toBe('unknown');
  });

  it('adds the same way back to a line that ends at its top, and says so', () => {
    const up = hill.slice(0, (hill.length + 1) / 2);
    const wayUp = elevated({ heightsM: up });
    const asDrawn = describeRoute(wayUp, DESIGN, { attributes: stated, addWayBack: false });
    expect(asDrawn.measures).toMatchObject({ shape: 'oneWay', distanceM: 4000 });
    expect(asDrawn.measures.lossM?.value).toBe(0);
    const whole = describeRoute(wayUp, DESIGN, { attributes: stated });
    expect(whole.measures).toMatchObject({ shape: 'outAndBack', distanceM: 8000 });
    expect(whole.measures.lossM?.value).toBeCloseTo(800, 0);
    expect(whole.notes.map((note) => note.code)).toContain('way-back-assumed');
    expect(whole.profile.at(-1)).toEqual([8000, 1200]);
  });

  it('says that a line which only goes down begins at its top', () => {
    const down = describeRoute(elevated({ heightsM: hill.slice((hill.length - 1) / 2) }), DESIGN, {
      attributes: stated,
    });
    expect(down.notes.map((note) => note.code)).toContain('begins-at-top');
    expect(down.measures.shape).toBe('oneWay');
  });

  it('takes no way back for granted where the heights of the second half are not known', () => {
    const halfKnown = hill.slice(0, (hill.length + 1) / 2).map((height, i) => (i > 100 ? null : height));
    const route = describeRoute(elevated({ heightsM: halfKnown }), DESIGN, { attributes: stated });
    expect(route.measures).toMatchObject({ shape: 'oneWay', distanceM: 4000 });
    expect(route.notes.map(({ code }) => code)).not.toContain('way-back-assumed');
  });

  it('says of no line with a climb of its own that it begins at its top', () => {
    const overAHill = [...hill.slice((hill.length - 1) / 2, -60), ...upAndDown(hill.at(-60) ?? 0, 240, 800)];
    const route = describeRoute(elevated({ heightsM: overAHill }), DESIGN, { attributes: stated });
    expect(route.measures.gainM?.value).toBeGreaterThan(200);
    expect(route.notes.map(({ code }) => code)).not.toContain('begins-at-top');
  });

  it('never counts less climb than lies between its start and its top, whatever is void between them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 100 }), fc.integer({ min: 10, max: 90 }), (from, length) => {
        const heightsM = hill.map((height, i) => (i >= from && i < from + length ? null : height));
        const { measures } = describeRoute(elevated({ heightsM, bearingsDeg: thereAndBack(hill) }), DESIGN);
        const rise = (measures.highM ?? 0) - (heightsM[0] ?? 0);
        expect(measures.gainM?.value ?? 0).toBeGreaterThanOrEqual(rise);
      }),
      { numRuns: 50 },
    );
  });

  it('knows nothing above treeline on a line with a hole in it', () => {
    const heightsM = hill.map((height, i) => (i >= 50 && i < 70 ? null : height));
    const broken = describeRoute(elevated({ heightsM, bearingsDeg: thereAndBack(hill) }), DESIGN, {
      attributes: stated,
    });
    expect(broken.measures.aboveTreelineM).toBeNull();
  });

  it('adds no way back where the top may lie under no tile', () => {
    const half = describeRoute(elevated({ heightsM: hill.map((z, i) => (i < 40 ? z : null)) }), DESIGN);
    expect(half.heightsMissing).toBe(true);
    expect(half.measures.shape).toBe('oneWay');
    const codes = half.notes.map((note) => note.code);
    expect(codes).not.toContain('way-back-assumed');
    expect(codes).not.toContain('ends-at-top');
  });

  it('bridges a short void and reports a long one', () => {
    const short = hill.map((height, i) => (i >= 50 && i < 53 ? null : height));
    const bridged = describeRoute(elevated({ heightsM: short, bearingsDeg: thereAndBack(hill) }), DESIGN);
    expect(bridged.heightsMissing).toBe(false);
    expect(bridged.measures.gainM?.value).toBeCloseTo(800, 0);
    const long = hill.map((height, i) => (i >= 50 && i < 70 ? null : height));
    const broken = describeRoute(elevated({ heightsM: long, bearingsDeg: thereAndBack(hill) }), DESIGN);
    expect(broken.heightsMissing).toBe(true);
    expect(broken.notes.map((note) => note.code)).toContain('partial-coverage');
  });

  it('gives null, not 0, where no height is known', () => {
    const nowhere = describeRoute(elevated({ heightsM: hill.map(() => null) }), DESIGN);
    expect(nowhere.measures).toMatchObject({ gainM: null, lossM: null, highM: null, demCoverage: 0 });
    expect(nowhere.notes.map((note) => note.code)).toContain('no-coverage');
  });

  it('never gets higher gain from raising every height by the same amount', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 3000 }), { minLength: 5, maxLength: 80 }),
        fc.integer({ min: 1, max: 500 }),
        (heights, lift) => {
          const options = { attributes: stated, addWayBack: false };
          const before = describeRoute(elevated({ heightsM: heights }), DESIGN, options).measures;
          const after = describeRoute(
            elevated({ heightsM: heights.map((height) => height + lift) }),
            DESIGN,
            options,
          ).measures;
          expect(after.gainM?.value).toBeCloseTo(before.gainM?.value ?? 0, 6);
        },
      ),
    );
  });

  it('spends less time above a higher treeline', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 500, max: 3000 }), { minLength: 5, maxLength: 80 }),
        fc.integer({ min: 500, max: 3000 }),
        fc.integer({ min: 1, max: 500 }),
        (heights, treelineM, more) => {
          const minutes = (line: number) =>
            describeRoute(elevated({ heightsM: heights }), DESIGN, {
              attributes: { treelineM: line },
              addWayBack: false,
            }).measures.aboveTreelineMin ?? 0;
          expect(minutes(treelineM + more)).toBeLessThanOrEqual(minutes(treelineM) + 1e-6);
        },
      ),
    );
  });

  it('widens the band on coarse tiles', () => {
    const coarse = { ...FINE_TILE, postingM: 90 };
    const wide = describeRoute(
      elevated({ heightsM: hill, bearingsDeg: thereAndBack(hill), tile: coarse }),
      DESIGN,
    ).measures.gainM;
    const fine = route.measures.gainM;
    expect((wide?.high ?? 0) - (wide?.low ?? 0)).toBeGreaterThan((fine?.high ?? 0) - (fine?.low ?? 0));
  });
});
