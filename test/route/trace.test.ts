import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { traceOf } from '../../src/route/trace.ts';

const SPACING_M = 20;
const counted = { leastM: 4, clearM: 12, restored: 1 };

/** Heights every 20 m of legs of so many steps, each step rising by so much. */
function legs(...parts: readonly (readonly [steps: number, riseM: number])[]): number[] {
  const heights = [1000];
  for (const [steps, riseM] of parts) {
    for (let i = 0; i < steps; i += 1) heights.push((heights.at(-1) ?? 0) + riseM);
  }
  return heights;
}

function lost(heights: readonly number[], reversal = counted): number {
  const { heightsM, turns } = traceOf(heights, SPACING_M, 60, reversal);
  return turns.reduce(
    (sum, turn, i) =>
      i === 0 ? 0 : sum + Math.max(0, (heightsM[turns[i - 1] ?? 0] ?? 0) - (heightsM[turn] ?? 0)),
    0,
  );
}

describe('traceOf', () => {
  it('counts a dip of 12 m within a climb, and leaves out the same 12 m on the level', () => {
    expect(lost(legs([40, 3], [4, -3], [40, 3]))).toBeGreaterThan(11);
    // The climb at the end holds the top, so that the wiggle is not kept as the highest place.
    expect(lost(legs([30, 0.1], [4, 3], [4, -3], [30, 0.1], [10, 3]))).toBe(0);
  });

  it('gives back to a turning point what smoothing takes off it, and no more than its slopes allow', () => {
    const dip = legs([40, 3], [8, -3], [40, 3]);
    const { restored: _, ...reversal } = counted;
    expect(lost(dip, { ...reversal, restored: 0 })).toBeLessThan(21.5);
    // Sampled every 20 m, slopes of 15 % meet up to 1.5 m beyond a station, half of it on average.
    expect(lost(dip)).toBeGreaterThanOrEqual(24);
    expect(lost(dip)).toBeLessThanOrEqual(24 + 2 * 0.75 + 1e-9);
  });

  it('keeps the ends, the top and the bottom as they are', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 2, maxLength: 80 }), (heights) => {
        const { heightsM, turns } = traceOf(heights, SPACING_M, 60, counted);
        expect(heightsM).toHaveLength(heights.length);
        expect(heightsM[0]).toBe(heights[0]);
        expect(heightsM.at(-1)).toBe(heights.at(-1));
        for (const extreme of [Math.max(...heights), Math.min(...heights)]) {
          expect(turns.some((turn) => heightsM[turn] === extreme)).toBe(true);
        }
      }),
    );
  });

  it('turns at the same places when walked the other way', () => {
    const climb = fc.array(fc.integer({ min: -12_000_000, max: 20_000_000 }), {
      minLength: 20,
      maxLength: 80,
    });
    fc.assert(
      fc.property(climb, (steps) => {
        let heightM = 1000;
        const heights = steps.map((step) => {
          heightM += step / 1e6;
          return heightM;
        });
        const there = traceOf(heights, SPACING_M, 60, counted).turns;
        const back = traceOf([...heights].reverse(), SPACING_M, 60, counted).turns;
        fc.pre(new Set(heights).size === heights.length); // ties may turn either way
        expect(back.map((turn) => heights.length - 1 - turn).reverse()).toEqual(there);
      }),
    );
  });
});
