import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { CRITERION_NAMES } from '../../src/rank/criteria/index.ts';
import { scoreParts } from '../../src/rank/score.ts';

const scoreOf = (...asked: Parameters<typeof scoreParts>) =>
  scoreParts(...asked).reduce((product, { factor }) => product * factor, 1);

describe('the score', () => {
  const judgements = (values: readonly number[]) =>
    CRITERION_NAMES.map((name, i) => ({ name, value: values[i] ?? 1 }));

  it('is the weighted geometric mean', () => {
    expect(scoreOf(judgements(CRITERION_NAMES.map(() => 0.5)), DESIGN.weights)).toBeCloseTo(0.5, 12);
  });

  it('rises with any one value, the others held', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.02, max: 0.9, noNaN: true }), { minLength: 12, maxLength: 12 }),
        fc.integer({ min: 0, max: 11 }),
        (values, which) => {
          const better = values.map((value, i) => (i === which ? value + 0.05 : value));
          expect(scoreOf(judgements(better), DESIGN.weights)).toBeGreaterThan(
            scoreOf(judgements(values), DESIGN.weights),
          );
        },
      ),
    );
  });

  it('lets no strength buy back one very poor criterion', () => {
    const poor = CRITERION_NAMES.map((_, i) => (i === 0 ? 0.01 : 1));
    const plain = CRITERION_NAMES.map(() => 0.7);
    expect(scoreOf(judgements(poor), DESIGN.weights)).toBeLessThan(
      scoreOf(judgements(plain), DESIGN.weights),
    );
  });

  it('counts a criterion that is not known as the least', () => {
    const unknown = [{ name: 'gain' as const, value: null }];
    expect(scoreOf(unknown, DESIGN.weights)).toBeCloseTo(0.01, 12);
  });
});
