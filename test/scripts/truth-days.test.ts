import { describe, expect, it } from 'vitest';
import { FILE, hasDays, shareOf, timedDays, toldDays } from '../../scripts/truth-days.ts';
import { DESIGN } from '../../src/design.ts';

describe.skipIf(!hasDays)(`real days of ${FILE}`, () => {
  const told = hasDays ? toldDays(timedDays(), DESIGN) : [];

  it('hold to their ranges about as often as is said', () => {
    expect(told).toHaveLength(42);
    const within = shareOf(told, ({ isElapsedWithin }) => isElapsedWithin);
    expect(within).toBeGreaterThanOrEqual(0.74);
    expect(within).toBeLessThanOrEqual(0.88);
    expect(shareOf(told, ({ isLate }) => isLate)).toBeLessThanOrEqual(0.13);
    expect(shareOf(told, ({ isCalled }) => isCalled)).toBeLessThanOrEqual(0.05);
  });
});
