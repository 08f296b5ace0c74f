import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Counts, turningPoints } from '../../src/route/turning-points.ts';

const atLeast =
  (heights: readonly number[], threshold: number): Counts =>
  (from, to) =>
    Math.abs((heights[to] ?? 0) - (heights[from] ?? 0)) >= threshold;

function gainOf(heights: readonly number[], threshold: number): { gain: number; loss: number } {
  let gain = 0;
  let loss = 0;
  const turns = turningPoints(heights, atLeast(heights, threshold));
  turns.forEach((turn, i) => {
    const before = turns[i - 1];
    if (before === undefined) return;
    const rise = (heights[turn] ?? 0) - (heights[before] ?? 0);
    gain += Math.max(0, rise);
    loss += Math.max(0, -rise);
  });
  return { gain, loss };
}

const profile = fc.array(fc.double({ min: 0, max: 500, noNaN: true }), { minLength: 2, maxLength: 60 });

describe('turningPoints', () => {
  it('counts the full height of a climb once it counts at all', () => {
    const heights = [100, 103, 101, 110];
    expect(turningPoints(heights, atLeast(heights, 5))).toEqual([0, 3]);
  });

  it('gives 92 m for the reversal of 5 m in the worked profile', () => {
    // sources.md §7, hysteresis check [C]: turning-point reversal >= 5 m -> 92 m of gain
    const heights = [100, 103, 101, 104, 102, 110, 108, 150, 147, 152, 120, 122, 121, 160];
    expect(gainOf(heights, 5).gain).toBe(92);
  });

  it('keeps gain minus loss equal to end minus start', () => {
    fc.assert(
      fc.property(profile, fc.double({ min: 0.5, max: 50, noNaN: true }), (heights, threshold) => {
        const { gain, loss } = gainOf(heights, threshold);
        expect(gain - loss).toBeCloseTo((heights.at(-1) ?? 0) - (heights[0] ?? 0), 6);
      }),
    );
  });

  it('swaps gain and loss within the threshold when the route is walked the other way', () => {
    fc.assert(
      fc.property(profile, fc.double({ min: 0.5, max: 50, noNaN: true }), (heights, threshold) => {
        const there = gainOf(heights, threshold);
        const back = gainOf([...heights].reverse(), threshold);
        expect(Math.abs(there.gain - back.loss)).toBeLessThanOrEqual(2 * threshold + 1e-9);
        expect(Math.abs(there.loss - back.gain)).toBeLessThanOrEqual(2 * threshold + 1e-9);
      }),
    );
  });

  it('never gives less than the climb from the start to the top less the threshold', () => {
    fc.assert(
      fc.property(profile, (heights) => {
        const first = heights[0] ?? 0;
        expect(gainOf(heights, 5).gain).toBeGreaterThanOrEqual(Math.max(...heights) - first - 5 - 1e-9);
      }),
    );
  });

  it('gives nothing for no heights and one point for one height', () => {
    expect(turningPoints([], () => true)).toEqual([]);
    expect(turningPoints([7], () => true)).toEqual([0]);
  });
});
