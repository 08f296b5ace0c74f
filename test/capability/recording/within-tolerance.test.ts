import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withinTolerance } from '../../../src/capability/recording/within-tolerance.ts';
import { destination, type Place } from '../../../src/earth/geodesic.ts';
import { stepM } from '../../../src/ingest/step-length.ts';
import { SOMEWHERE } from '../../support/elevated.ts';

const at = (eastM: number, northM: number): Place =>
  destination(destination(SOMEWHERE, 90, eastM), 0, northM);
const lengthOf = (points: readonly Place[]) =>
  points.reduce((sum, point, i) => sum + (i === 0 ? 0 : stepM(points[i - 1] ?? point, point)), 0);

describe('withinTolerance', () => {
  it('keeps the points that make a bend over the tolerance, and none that do not', () => {
    const points = [at(0, 0), at(50, 4), at(100, 0), at(150, 12), at(200, 0)];
    expect(withinTolerance(points, 10)).toEqual([0, 3, 4]);
    expect(withinTolerance(points, 1)).toEqual([0, 1, 2, 3, 4]);
    expect(withinTolerance(points, 30)).toEqual([0, 4]);
  });

  it('keeps the turn of a way there and back', () => {
    expect(withinTolerance([at(0, 0), at(300, 0), at(600, 0), at(300, 0), at(0, 0)], 10)).toEqual([0, 2, 4]);
  });

  it('knows lines of one point and of none', () => {
    expect(withinTolerance([], 10)).toEqual([]);
    expect(withinTolerance([SOMEWHERE], 10)).toEqual([0]);
  });

  it('never lengthens a line, keeps its ends, and takes the less the smaller the tolerance', () => {
    const steps = fc.array(fc.tuple(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -40, max: 40 })), {
      minLength: 2,
      maxLength: 60,
    });
    fc.assert(
      fc.property(steps, (moves) => {
        let [east, north] = [0, 0];
        const points = moves.map(([x, y]) => {
          east += x;
          north += y;
          return at(east, north);
        });
        const kept = withinTolerance(points, 10);
        expect(kept[0]).toBe(0);
        expect(kept.at(-1)).toBe(points.length - 1);
        expect(lengthOf(kept.flatMap((i) => points[i] ?? []))).toBeLessThanOrEqual(lengthOf(points) + 1e-6);
        expect(withinTolerance(points, 5).length).toBeGreaterThanOrEqual(kept.length);
      }),
      { numRuns: 50 },
    );
  });

  it('takes a long line of nothing but bends in pieces', () => {
    const points = Array.from({ length: 20_000 }, (_, i) => at(i * 3, i % 2 === 0 ? 0 : 30));
    expect(withinTolerance(points, 10).length).toBeGreaterThan(19_800);
  });
});
