import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { WaterPoint } from '../../src/day/day-plan.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { refillOf } from '../../src/plan/refill.ts';
import { waterNeed } from '../../src/plan/water.ts';

const settings = DESIGN.supplies;
const cool = { people: 11, warm: false, highM: 1900 };

describe('water', () => {
  it.each([
    // Published and checked in sources.md §9: 8 h at 0.5 L/h, 5 h at 0.75 L/h.
    [8, false, 4],
    [5, true, 3.75],
  ])('of a day of %i h (warm: %s) is the published %f L to drink', (hours, warm, litres) => {
    expect(waterNeed({ ...cool, hours, warm }, settings).drinkEachL).toBe(litres);
  });

  it('adds the reserve and rounds up to what bottles hold', () => {
    const need = waterNeed({ ...cool, hours: 7.2 }, settings);
    expect(need.each.exactL).toBeCloseTo(4.1, 9);
    expect(need.each.packedL).toBe(4.5);
    expect(need.party.packedL).toBe(11 * 4.5);
    expect(need.range.lowL).toBeCloseTo(7.2 * 0.33, 9);
    expect(need.range.highL).toBeCloseTo(7.2, 9);
  });

  it('is the minimum for a short walk, and for one of no length', () => {
    expect(waterNeed({ ...cool, hours: 0 }, settings).each).toEqual({ exactL: 2, packedL: 2 });
    expect(waterNeed({ ...cool, hours: 2 }, settings).each.exactL).toBe(2);
  });

  it('takes the high rate above 3,000 m, not at it', () => {
    expect(waterNeed({ ...cool, hours: 6, highM: 3001 }, settings)).toMatchObject({
      because: 'high',
      ratePerHL: 0.75,
      alternatives: [],
    });
    expect(waterNeed({ ...cool, hours: 6, highM: 3000 }, settings).because).toBe('cool');
    expect(waterNeed({ ...cool, hours: 6, highM: 0 }, settings).because).toBe('cool');
  });

  it.each([
    [null, 1900],
    [false, null],
    [null, null],
  ])(
    'takes the trade’s usual rate where weather (%s) or height (%s) is not known, and says what a warm day takes',
    (warm, highM) => {
      const need = waterNeed({ people: 11, hours: 8, warm, highM }, settings);
      expect(need).toMatchObject({ because: 'notKnown', ratePerHL: 0.5, each: { exactL: 4.5 } });
      expect(need.alternatives).toEqual([
        { when: 'warm', ratePerHL: 0.75, each: { exactL: 6.5, packedL: 6.5 } },
      ]);
    },
  );

  it('says what a cool day takes where a program counts the unknown as warm', () => {
    const changed = withChanges({ supplies: { waterLPerH: { notKnown: 0.75 } } }).supplies;
    const need = waterNeed({ people: 11, hours: 8, warm: null, highM: 1900 }, changed);
    expect(need.ratePerHL).toBe(0.75);
    expect(need.alternatives.map(({ when, each }) => [when, each.exactL])).toEqual([['cool', 4.5]]);
  });

  it('lets no program ask for more than 1 L an hour', () => {
    expect(() => withChanges({ supplies: { waterLPerH: { warmOrHigh: 1.2 } } })).toThrow(/waterLPerH/);
  });

  it('never falls with hours or below the minimum, and is drunk at no more than the cap', () => {
    const hours = fc.double({ min: 0, max: 30, noNaN: true });
    const warm = fc.constantFrom(true, false, null);
    const highM = fc.option(fc.double({ min: 0, max: 6000, noNaN: true }));
    fc.assert(
      fc.property(hours, hours, warm, highM, fc.nat(30), (one, other, isWarm, topM, people) => {
        const at = (h: number) => waterNeed({ hours: h, people, warm: isWarm, highM: topM }, settings);
        const shorter = at(Math.min(one, other));
        const longer = at(Math.max(one, other));
        expect(longer.each.exactL).toBeGreaterThanOrEqual(shorter.each.exactL);
        expect(longer.each.packedL).toBeGreaterThanOrEqual(shorter.each.packedL);
        expect(shorter.each.exactL).toBeGreaterThanOrEqual(settings.leastWaterL);
        expect(shorter.each.packedL).toBeGreaterThanOrEqual(shorter.each.exactL - 1e-8);
        expect(longer.drinkEachL).toBeLessThanOrEqual(longer.range.highL + 1e-9);
        expect(longer.party.packedL).toBeCloseTo(people * longer.each.packedL, 9);
        expect(longer.party.exactL).toBeCloseTo(people * longer.each.exactL, 9);
      }),
    );
  });

  it('refuses hours that are none', () => {
    for (const hours of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => waterNeed({ ...cool, hours }, settings)).toThrow(RangeError);
    }
  });
});

describe('refills', () => {
  const point = (name: string, afterMin: number | null): WaterPoint => ({
    name,
    distanceM: null,
    afterMin,
    notes: null,
  });
  const dayMin = { p50: 480, p90: 600 };

  it('ask between two waters for the drink and the reserve, on a late day', () => {
    const refill = refillOf([point('Upper Spring', 240)], dayMin, 0.5, settings);
    // Half of a late day of 10 h: 2.5 L to drink and 0.5 L in reserve.
    expect(refill?.carries.map(({ hours, each }) => [hours, each.exactL])).toEqual([
      [5, 3],
      [5, 3],
    ]);
    expect(refill?.atStart.packedL).toBe(3);
  });

  it('put the waters in order of the walk and name the greatest carry', () => {
    const refill = refillOf([point('Low Brook', 420), point('Upper Spring', 60)], dayMin, 0.5, settings);
    expect(refill?.carries.map(({ from, to }) => [from?.name ?? null, to?.name ?? null])).toEqual([
      [null, 'Upper Spring'],
      ['Upper Spring', 'Low Brook'],
      ['Low Brook', null],
    ]);
    expect(refill?.greatest.exactL).toBeCloseTo(0.5 * 7.5 + 0.5, 9);
    expect(refill?.atStart.exactL).toBe(settings.leastWaterL);
  });

  it('are not counted without a time on the way, nor at the start or the end', () => {
    expect(refillOf([], dayMin, 0.5, settings)).toBeNull();
    expect(refillOf([point('a', null), point('b', 0), point('c', 480)], dayMin, 0.5, settings)).toBeNull();
    expect(refillOf([point('a', 0)], { p50: 0, p90: 0 }, 0.5, settings)).toBeNull();
  });

  it('never ask for more than all from the start, and their hours are the late day', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 479 }), { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 480, max: 1200 }),
        (minutes, p90) => {
          const all = waterNeed({ ...cool, hours: p90 / 60 }, settings);
          const refill = refillOf(
            minutes.map((afterMin) => point('x', afterMin)),
            { p50: 480, p90 },
            all.ratePerHL,
            settings,
          );
          expect(refill?.greatest.exactL).toBeLessThanOrEqual(all.each.exactL + 1e-9);
          const hours = (refill?.carries ?? []).reduce((sum, carry) => sum + carry.hours, 0);
          expect(hours).toBeCloseTo(p90 / 60, 9);
        },
      ),
    );
  });
});
