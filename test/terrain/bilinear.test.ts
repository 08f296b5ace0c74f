import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bilinear, snapped } from '../../src/terrain/bilinear.ts';

const VOID = Number.NaN;
const unit = fc.double({ min: 0, max: 1, noNaN: true });
const height = fc.double({ min: -400, max: 8800, noNaN: true });

describe('bilinear', () => {
  it('gives the mean in the middle of the cell', () => {
    expect(bilinear(0, 10, 20, 30, 0.5, 0.5)).toBe(15);
  });

  it('is NaN when a posting with weight is void', () => {
    expect(bilinear(VOID, 1, 1, 1, 0.3, 0.7)).toBeNaN();
    expect(bilinear(1, VOID, 1, 1, 0.3, 0.7)).toBeNaN();
    expect(bilinear(1, 1, VOID, 1, 0.3, 0.7)).toBeNaN();
    expect(bilinear(1, 1, 1, VOID, 0.3, 0.7)).toBeNaN();
  });

  it('does not need a posting without weight', () => {
    expect(bilinear(7, VOID, VOID, VOID, 0, 0)).toBe(7);
    expect(bilinear(0, 10, VOID, VOID, 0.25, 0)).toBe(2.5);
    expect(bilinear(0, VOID, 10, VOID, 0, 0.25)).toBe(2.5);
    expect(bilinear(VOID, VOID, VOID, 9, 1, 1)).toBe(9);
  });

  it('keeps a height of 0', () => {
    expect(bilinear(0, 0, 0, 0, 0.5, 0.5)).toBe(0);
  });

  it('stays between its postings', () => {
    fc.assert(
      fc.property(height, height, height, height, unit, unit, (v00, v01, v10, v11, wx, wy) => {
        const between = bilinear(v00, v01, v10, v11, wx, wy);
        expect(between).toBeGreaterThanOrEqual(Math.min(v00, v01, v10, v11) - 1e-9);
        expect(between).toBeLessThanOrEqual(Math.max(v00, v01, v10, v11) + 1e-9);
      }),
    );
  });
});

describe('snapped', () => {
  it('takes a rounding error for the posting and nothing more', () => {
    expect(snapped(599.99999998)).toBe(600);
    expect(snapped(599.9999)).toBe(599.9999);
  });
});
