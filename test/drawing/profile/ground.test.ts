import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groundM, hasRoomAtStart, type Point, thinned } from '../../../src/drawing/profile/ground.ts';

const heights = fc.array(fc.option(fc.integer({ min: 0, max: 3000 }), { nil: null, freq: 8 }), {
  minLength: 1,
  maxLength: 600,
});
const pointsOf = (list: readonly (number | null)[]): Point[] => list.map((heightM, i) => [i * 10, heightM]);

describe('thinning', () => {
  it('keeps the highest and the lowest point, the order, and some gap where there was one', () => {
    fc.assert(
      fc.property(heights, fc.integer({ min: 4, max: 200 }), (list, most) => {
        const points = pointsOf(list);
        const kept = thinned(points, most);
        const known = (some: readonly Point[]) =>
          some.flatMap(([, heightM]) => (heightM === null ? [] : [heightM]));
        expect(Math.max(...known(kept))).toBe(Math.max(...known(points)));
        expect(Math.min(...known(kept))).toBe(Math.min(...known(points)));
        expect(kept.some(([, heightM]) => heightM === null)).toBe(list.includes(null));
        expect(kept.every(([distanceM], i) => i === 0 || distanceM > (kept[i - 1]?.[0] ?? 0))).toBe(true);
        expect(kept.every((point) => points.includes(point))).toBe(true);
        // Lowest, highest and a gap of each stretch, and the two ends.
        expect(kept.length).toBeLessThanOrEqual(
          Math.max(points.length > most ? 1.5 * most + 5 : points.length, 0),
        );
      }),
    );
  });

  it('keeps both ends of the line', () => {
    const points = pointsOf(Array.from({ length: 500 }, (_, i) => Math.round(900 + 50 * Math.sin(i / 7))));
    const kept = thinned(points, 60);
    expect(kept[0]).toBe(points[0]);
    expect(kept.at(-1)).toBe(points.at(-1));
  });
});

describe('height of the ground at a distance', () => {
  const points: Point[] = [
    [0, 100],
    [10, 200],
    [20, null],
    [30, 0],
  ];

  it('lies on the line between two points', () => {
    expect(groundM(points, 0)).toBe(100);
    expect(groundM(points, 5)).toBe(150);
    expect(groundM(points, 30)).toBe(0);
    expect(groundM(points, 99)).toBe(0);
  });

  it('is null where a point beside it is not known, and where there is none', () => {
    expect(groundM(points, 15)).toBeNull();
    expect(groundM(points, 20)).toBeNull();
    expect(groundM([], 5)).toBeNull();
  });
});

describe('room for the name of the treeline', () => {
  it('is where the way below it is longer', () => {
    expect(
      hasRoomAtStart(
        [
          [0, 0],
          [50, 90],
          [60, 90],
          [70, 0],
        ],
        50,
      ),
    ).toBe(true);
    expect(
      hasRoomAtStart(
        [
          [0, 0],
          [10, 90],
          [60, 90],
          [99, 0],
        ],
        50,
      ),
    ).toBe(false);
    expect(
      hasRoomAtStart(
        [
          [0, 0],
          [10, 10],
        ],
        50,
      ),
    ).toBe(true);
  });
});
