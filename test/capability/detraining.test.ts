import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { remaining } from '../../src/capability/detraining.ts';
import { DESIGN } from '../../src/design.ts';

const BANDS = ['8-11', '12-14', '15-17', 'adult'] as const;

describe('what is left of an outing', () => {
  it('is near what was measured', () => {
    // Coyle et al. 1984 [P2]: aerobic capacity −7 % at 12 days, −14 % at 56, −16 % at 84; within a point.
    for (const [days, lostPercent] of [
      [12, 7],
      [56, 14],
      [84, 16],
    ] as const) {
      expect(Math.abs(100 * (1 - remaining(days, 'adult')) - lostPercent)).toBeLessThan(1);
    }
  });

  it('follows the fitted curve within the window [C]', () => {
    for (const [days, lostPercent] of [
      [7, 4.3],
      [12, 6.7],
      [14, 7.5],
      [28, 11.5],
      [56, 14.7],
      [84, 15.6],
    ] as const) {
      expect(Math.abs(100 * (1 - remaining(days, 'adult')) - lostPercent)).toBeLessThan(0.06);
      if (days <= 42) expect(remaining(days, '12-14')).toBe(remaining(days, 'adult'));
    }
    expect(remaining(28, 'adult')).toBeCloseTo(0.8855, 4);
  });

  it('is all of it on the day itself, and nothing after twice the window', () => {
    for (const band of BANDS) expect(remaining(0, band)).toBe(1);
    expect(remaining(84, '15-17')).toBe(0);
    expect(remaining(83, '15-17')).toBeGreaterThan(0);
    expect(remaining(168, 'adult')).toBe(0);
    expect(remaining(167, 'adult')).toBeGreaterThan(0);
    expect(remaining(100_000, 'adult')).toBe(0);
  });

  it('never grows with age, and never counts more for minors than for adults', () => {
    const days = fc.integer({ min: 0, max: 4000 }).map((n) => n / 10);
    fc.assert(
      fc.property(days, days, fc.constantFrom(...BANDS), (a, b, band) => {
        const [sooner, later] = [remaining(Math.min(a, b), band), remaining(Math.max(a, b), band)];
        expect(later).toBeLessThanOrEqual(sooner);
        expect(sooner).toBeLessThanOrEqual(1);
        expect(later).toBeGreaterThanOrEqual(0);
        expect(remaining(a, band)).toBeLessThanOrEqual(remaining(a, 'adult'));
      }),
    );
  });

  it('has no cliff: from one day to the next it falls by 2 % at most, and by 3.1 % for minors', () => {
    // Falling from 0.86 to 0 within 42 days, minors cannot do with less than 2.04 % a day.
    for (const band of BANDS) {
      for (let day = 0; day < 200; day += 1) {
        const step = remaining(day, band) - remaining(day + 1, band);
        expect(step, `${band}, day ${day}`).toBeLessThan(band === 'adult' ? 0.02 : 0.031);
      }
    }
  });

  it('changes slope gently too: no day’s step differs from the last one’s by more than 0.5 %', () => {
    for (const band of BANDS) {
      for (let day = 1; day < 200; day += 1) {
        const before = remaining(day - 1, band) - remaining(day, band);
        const after = remaining(day, band) - remaining(day + 1, band);
        expect(Math.abs(after - before), `${band}, day ${day}`).toBeLessThan(0.005);
      }
    }
  });

  it('takes a program’s own constants, 0 too', () => {
    expect(remaining(30, '8-11', { ...DESIGN.detraining, windowDaysMinor: 10 })).toBe(0);
    expect(remaining(30, '8-11', { ...DESIGN.detraining, lossMax: 0 })).toBe(1);
    const nothing = { lossMax: 0.159, lossDays: 0, windowDaysMinor: 0, windowDaysAdult: 0 };
    expect(remaining(0, 'adult', nothing)).toBe(1);
    expect(remaining(1, 'adult', nothing)).toBe(0);
  });

  it('is refused for an outing after the trip', () => {
    expect(() => remaining(-1, 'adult')).toThrow(RangeError);
    expect(() => remaining(Number.NaN, 'adult')).toThrow(RangeError);
  });
});
