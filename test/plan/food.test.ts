import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { foodNeed } from '../../src/plan/food.ts';

const settings = DESIGN.supplies;

describe('food', () => {
  it('is so much an hour and an emergency ration', () => {
    const need = foodNeed(8, settings.kcalPerHMinor, null, settings);
    expect(need.eatKcal).toBe(2000);
    expect(need.carryKcal).toBe(2500);
    expect(need.carryKg).toBeCloseTo(2500 / 3500, 9);
    expect(need.workWithMarginKcal).toBeNull();
  });

  it('is at least half of the day’s work with its margin', () => {
    const need = foodNeed(4, 250, 3000, settings);
    expect(need.because).toBe('work');
    expect(need.workWithMarginKcal).toBeCloseTo(3450, 9);
    expect(need.eatKcal).toBeCloseTo(1725, 9);
    // LEG of sources.md §9 [C]: 1,355 kcal in 6.9 h, where the hours ask for more.
    expect(foodNeed(6.9, 250, 1355, settings).because).toBe('hours');
  });

  it('takes work of 0 as known', () => {
    expect(foodNeed(1, 250, 0, settings).workWithMarginKcal).toBe(0);
  });

  it('never falls with hours, and its meals add up to what is carried', () => {
    const hours = fc.double({ min: 0, max: 30, noNaN: true });
    const work = fc.option(fc.double({ min: 0, max: 9000, noNaN: true }));
    fc.assert(
      fc.property(hours, hours, work, (one, other, workKcal) => {
        const at = (h: number) => foodNeed(h, 300, workKcal, settings);
        const longer = at(Math.max(one, other));
        expect(longer.carryKcal).toBeGreaterThanOrEqual(at(Math.min(one, other)).carryKcal);
        const sum = longer.meals.reduce((kcal, meal) => kcal + (meal.kcal ?? 0), 0);
        expect(sum).toBeCloseTo(longer.carryKcal, 6);
      }),
    );
  });

  it('refuses hours or work that are none', () => {
    expect(() => foodNeed(-1, 250, null, settings)).toThrow(RangeError);
    expect(() => foodNeed(1, 250, -1, settings)).toThrow(RangeError);
  });
});
