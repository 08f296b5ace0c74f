import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lcdaWattPerKg, legWorkKj } from '../../src/capability/energy.ts';
import { KJ_PER_KCAL } from '../../src/units.ts';
import { herzogJPerKgM, minettiJPerKgM, pandolfW, santeeW } from './reference/energy-models.ts';

// Marks: [P] printed in the source; [P2] in a secondary page; [C] computed from the formula as stated.

describe('LCDA graded walking', () => {
  it('gives the known rates [C]', () => {
    for (const [speedMS, gradePercent, wattPerKg] of [
      [0, 0, 1.44],
      [1, 0, 3.62],
      [1.34, 0, 4.414],
      [1, 10, 6.773],
      [1, 20, 10.413],
      [1, -10, 2.62],
      [1, -20, 2.946],
      [1.34, -10, 3.074],
    ] as const) {
      expect(lcdaWattPerKg(speedMS, gradePercent)).toBeCloseTo(wattPerKg, 3);
    }
  });

  it('uses the base 1.1 and not the 1.11 of one copy', () => {
    // Trap (e). First value printed by the copy with 1.11 [P2], second the correct form [C].
    for (const [speedMS, gradePercent, copy, correct] of [
      [0.4768426667, 13.24968434, 5.0021, 4.9524],
      [0.89408, 15.15151515, 8.042, 7.9866],
      [0.54395076, -11.83712121, 2.3056, 2.4119],
    ] as const) {
      const got = lcdaWattPerKg(speedMS, gradePercent);
      expect(got).toBeCloseTo(correct, 4);
      expect(Math.abs(got - copy)).toBeGreaterThan(0.04);
    }
  });

  it('takes the grade in percent, signed', () => {
    // Trap (f): 0.1 would be a tenth of a percent.
    expect(lcdaWattPerKg(1, 10) - lcdaWattPerKg(1, 0)).toBeGreaterThan(3);
    expect(lcdaWattPerKg(1, 0.1) - lcdaWattPerKg(1, 0)).toBeLessThan(0.1);
    expect(lcdaWattPerKg(1, -10)).toBeLessThan(lcdaWattPerKg(1, 0));
  });

  it('comes to 520 kcal an hour on 20 %, 220 on the level, for 58 kg in all [C]', () => {
    const kcalPerH = (speedMS: number, gradePercent: number) =>
      (lcdaWattPerKg(speedMS, gradePercent) * 58 * 3.6) / KJ_PER_KCAL;
    expect(Math.round(kcalPerH(1, 20))).toBe(520);
    expect(Math.round(kcalPerH(1.34, 0))).toBe(220);
  });

  it('does not leave the grades that were studied', () => {
    expect(lcdaWattPerKg(1, 60)).toBe(lcdaWattPerKg(1, 45));
    expect(lcdaWattPerKg(1, -90)).toBe(lcdaWattPerKg(1, -40));
    expect(lcdaWattPerKg(1, Number.POSITIVE_INFINITY)).toBe(lcdaWattPerKg(1, 45));
    expect(() => lcdaWattPerKg(-0.1, 0)).toThrow(RangeError);
  });

  it('rises with speed, and with the grade uphill', () => {
    const speed = fc.integer({ min: 1, max: 1950 }).map((n) => n / 1000);
    fc.assert(
      fc.property(speed, fc.integer({ min: 0, max: 44 }), (speedMS, grade) => {
        expect(lcdaWattPerKg(speedMS + 0.01, grade)).toBeGreaterThan(lcdaWattPerKg(speedMS, grade));
        expect(lcdaWattPerKg(speedMS, grade + 1)).toBeGreaterThan(lcdaWattPerKg(speedMS, grade));
      }),
    );
  });
});

describe('the work of a leg', () => {
  const up = { horizontalM: 8000, climbM: 900, dropM: 0 };
  const down = { horizontalM: 8000, climbM: 0, dropM: 900 };

  it('is 995 kcal up and 360 down the test leg at DIN 33466 speeds, for 58 kg, within 1 % [C]', () => {
    // The values are computed with the speed on the map, ours with the speed along the slope: 0.6 % more.
    const upKcal = legWorkKj(up, 240, 58) / KJ_PER_KCAL;
    const downKcal = legWorkKj(down, 174, 58) / KJ_PER_KCAL;
    expect(Math.abs(upKcal / 995 - 1)).toBeLessThan(0.01);
    expect(Math.abs(downKcal / 360 - 1)).toBeLessThan(0.01);
  });

  it('of standing still is that of standing', () => {
    expect(legWorkKj({ horizontalM: 0, climbM: 0, dropM: 0 }, 10, 60)).toBeCloseTo(1.44 * 600 * 60 * 1e-3, 9);
  });

  it('grows in proportion to the mass, and is 0 for no leg', () => {
    expect(legWorkKj(up, 240, 116)).toBeCloseTo(2 * legWorkKj(up, 240, 58), 9);
    expect(legWorkKj({ horizontalM: 0, climbM: 0, dropM: 0 }, 0, 58)).toBe(0);
  });

  it('is refused for a leg without time', () => {
    expect(() => legWorkKj(up, 0, 58)).toThrow(RangeError);
    expect(() => legWorkKj(up, Number.NaN, 58)).toThrow(RangeError);
  });

  it('stays finite straight up', () => {
    expect(Number.isFinite(legWorkKj({ horizontalM: 0, climbM: 100, dropM: 0 }, 30, 58))).toBe(true);
  });
});

describe('the models beside it', () => {
  it('Minetti’s polynomial gives the known costs [C]', () => {
    for (const [i, cost] of [
      [-0.45, 3.605],
      [-0.3, 2.208],
      [-0.2, 1.087],
      [-0.1, 1.127],
      [0, 2.5],
      [0.1, 4.899],
      [0.2, 7.877],
      [0.3, 11.184],
      [0.45, 17.6],
    ] as const) {
      expect(minettiJPerKgM(i)).toBeCloseTo(cost, 3);
    }
  });

  it('Minetti’s polynomial is near the measured slopes, but not on the measured level cost', () => {
    // Measured, abstract of the paper [P]: +0.45 17.33 ± 1.11; −0.10 0.81 ± 0.37; −0.45 3.46 ± 0.95; level 1.64 ± 0.50.
    expect(Math.abs(minettiJPerKgM(0.45) - 17.33)).toBeLessThan(1.11);
    expect(Math.abs(minettiJPerKgM(-0.1) - 0.81)).toBeLessThan(0.37);
    expect(Math.abs(minettiJPerKgM(-0.45) - 3.46)).toBeLessThan(0.95);
    // Trap (d).
    expect(minettiJPerKgM(0) - 1.64).toBeGreaterThan(0.5);
  });

  it('Minetti’s polynomial needs the sign of the gradient', () => {
    // Trap (b): |i| would make going down 20 % cost seven times what it does.
    expect(minettiJPerKgM(0.2) / minettiJPerKgM(-0.2)).toBeGreaterThan(7);
  });

  it('Herzog’s refit gives the known costs and the measured level one [C]', () => {
    for (const [i, cost] of [
      [-0.45, 3.521],
      [-0.1, 0.617],
      [0, 1.64],
      [0.1, 4.431],
      [0.2, 8.063],
      [0.45, 17.379],
    ] as const) {
      expect(herzogJPerKgM(i)).toBeCloseTo(cost, 3);
    }
  });

  it('LCDA has the shape that was measured: dearest up, cheapest on a gentle way down', () => {
    // Net of standing, per metre, at 1 m/s. Measured minimum near −0.10 (Minetti 2002) [P].
    const perMetre = (percent: number) => lcdaWattPerKg(1, percent) - lcdaWattPerKg(0, 0);
    expect(perMetre(-10)).toBeLessThan(perMetre(0));
    expect(perMetre(-10)).toBeLessThan(perMetre(-40));
    expect(perMetre(20)).toBeGreaterThan(2 * perMetre(0));
    expect(Math.abs(perMetre(20) / herzogJPerKgM(0.2) - 1)).toBeLessThan(0.15);
  });

  it('Pandolf gives the known rates [C]', () => {
    const walk = (bodyKg: number, loadKg: number, speedMS: number, gradePercent: number) =>
      pandolfW({ bodyKg, loadKg, speedMS, gradePercent });
    expect(walk(70, 0, 1.34, 0)).toBeCloseTo(293.5, 1);
    expect(walk(70, 14, 1.34, 0)).toBeCloseTo(338.0, 1);
    expect(walk(50, 8, 1.1, 10)).toBeCloseTo(406.5, 1);
    expect(walk(50, 8, 1.1, 20)).toBeCloseTo(629.8, 1);
  });

  it('Santee’s correction gives the known downhill rates, which LCDA shares [C]', () => {
    const light = { bodyKg: 70, loadKg: 0, speedMS: 1.34, gradePercent: -6 };
    expect(pandolfW(light)).toBeCloseTo(96.6, 1);
    expect(santeeW(light)).toBeCloseTo(-137.6, 1);
    expect(pandolfW(light) - santeeW(light)).toBeCloseTo(234.2, 1);
    expect(70 * lcdaWattPerKg(1.34, -6)).toBeCloseTo(230.0, 1);
    const laden = { bodyKg: 70, loadKg: 14, speedMS: 1.34, gradePercent: -8.6 };
    expect(pandolfW(laden) - santeeW(laden)).toBeCloseTo(260.6, 1);
    expect(84 * lcdaWattPerKg(1.34, -8.6)).toBeCloseTo(261.2, 1);
  });

  it('Santee’s correction needs the sign of the grade', () => {
    // Trap (b): with |G| going down 6 % would cost half as much again as the level, not less.
    const wrong = { bodyKg: 70, loadKg: 0, speedMS: 1.34, gradePercent: 6 };
    expect(pandolfW(wrong) - santeeW(wrong)).toBeGreaterThan(440);
  });

  it('Santee’s correction runs away below −12 %, LCDA does not', () => {
    // Trap (c): within 10 % of LCDA down to −12 %, 41 % over it at −20 %, 122 % at −30 %.
    const at = (gradePercent: number) => {
      const walk = { bodyKg: 70, loadKg: 0, speedMS: 1.34, gradePercent };
      return (pandolfW(walk) - santeeW(walk)) / (70 * lcdaWattPerKg(1.34, gradePercent)) - 1;
    };
    for (const gradePercent of [-4, -6, -8.6, -12]) expect(Math.abs(at(gradePercent))).toBeLessThan(0.1);
    expect(at(-20)).toBeGreaterThan(0.4);
    expect(at(-30)).toBeGreaterThan(1.2);
  });
});
