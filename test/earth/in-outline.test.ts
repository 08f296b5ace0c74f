import { describe, expect, it } from 'vitest';
import { inOutline } from '../../src/earth/in-outline.ts';

// An L-shaped island, so that its corner cut out tells a ring from its box.
const island = [
  [-30.4, 46.0],
  [-30.0, 46.0],
  [-30.0, 46.2],
  [-30.2, 46.2],
  [-30.2, 46.4],
  [-30.4, 46.4],
] as const;

describe('a place in an outline', () => {
  it('is inside, outside, or in the notch, which is outside', () => {
    expect(inOutline({ lonDeg: -30.3, latDeg: 46.3 }, island)).toBe(true);
    expect(inOutline({ lonDeg: -30.1, latDeg: 46.1 }, island)).toBe(true);
    expect(inOutline({ lonDeg: -30.1, latDeg: 46.3 }, island)).toBe(false);
    expect(inOutline({ lonDeg: -31, latDeg: 46.1 }, island)).toBe(false);
  });

  it('counts the edge as inside, and reads closed and open rings alike', () => {
    expect(inOutline({ lonDeg: -30.4, latDeg: 46.1 }, island)).toBe(true);
    expect(inOutline({ lonDeg: -30.3, latDeg: 46.3 }, [...island, island[0]])).toBe(true);
  });

  it('finds a place whose longitude is written a full turn away', () => {
    expect(inOutline({ lonDeg: 329.7, latDeg: 46.3 }, island)).toBe(true);
    const overTheLine = [
      [179, -1],
      [181, -1],
      [181, 1],
      [179, 1],
    ] as const;
    expect(inOutline({ lonDeg: -179.5, latDeg: 0 }, overTheLine)).toBe(true);
    expect(inOutline({ lonDeg: -178.5, latDeg: 0 }, overTheLine)).toBe(false);
  });

  it('refuses a ring that encloses nothing', () => {
    expect(() => inOutline({ lonDeg: 0, latDeg: 0 }, [])).toThrow(RangeError);
    expect(() =>
      inOutline({ lonDeg: 0, latDeg: 0 }, [
        [0, 0],
        [1, 1],
        [0, 0],
      ]),
    ).toThrow(RangeError);
  });
});
