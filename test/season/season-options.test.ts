import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { worthOf } from '../../src/season/season-options.ts';

const score = fc.double({ min: 0.01, max: 1, noNaN: true });

describe('what a way of placing a group is worth', () => {
  it('is more for every fit than for any stretch, and grows with the score within each', () => {
    fc.assert(
      fc.property(score, score, (one, other) => {
        expect(worthOf({ verdict: 'fits', score: one })).toBeGreaterThan(
          worthOf({ verdict: 'stretch', score: other }),
        );
        for (const verdict of ['fits', 'stretch'] as const) {
          const [low, high] = [Math.min(one, other), Math.max(one, other)];
          expect(worthOf({ verdict, score: low })).toBeLessThanOrEqual(worthOf({ verdict, score: high }));
        }
      }),
    );
  });
});
