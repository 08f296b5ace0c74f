import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HIKING_RULES } from '../../../src/capability/rules/index.ts';
import {
  langmuir,
  langmuirGroup,
  langmuirGroupMin,
  naismith,
  naismithMin,
} from '../../../src/capability/rules/langmuir.ts';
import { type Leg, monotoneParts, slopeRatio } from '../../../src/capability/rules/leg.ts';
import { munter, munterMin, swiss, swissMinPerKm } from '../../../src/capability/rules/swiss.ts';
import { tobler, toblerKmH } from '../../../src/capability/rules/tobler.ts';
import {
  cautiousTradeRule,
  din33466,
  din33466Min,
  slowerDownMin,
  tradeRule,
  tradeRuleMin,
} from '../../../src/capability/rules/trade-rule.ts';
import { M_PER_FT, M_PER_MILE } from '../../../src/units.ts';

// Marks: [P2] printed in a secondary page; [C] computed from the formula as stated, guards the code alone.
const leg = (horizontalM: number, climbM: number, dropM: number): Leg => ({ horizontalM, climbM, dropM });
/** The test leg: 8 km with 900 m of even climb, and the same way back. */
const UP = leg(8000, 900, 0);
const DOWN = leg(8000, 0, 900);
const hours = (minutes: number) => minutes / 60;
const slopeOf = (degrees: number) => Math.tan((degrees * Math.PI) / 180);

/** Speed off path as a share of that on path (Tobler 1993). */
const TOBLER_OFF_PATH = 3 / 5;

/**
 * The same rule in seconds as GRASS GIS r.walk prints it, after Aitken 1977 and Langmuir 1984:
 * T = a·ΔS + b·ΔH up + c·ΔH moderate down + d·ΔH steep down, with ΔH negative downhill.
 */
function aitkenS(leg: Leg): number {
  const slope = slopeRatio(leg);
  const a = 0.72; // s/m, level
  const b = 6.0; // s/m, up
  const c = 1.9998; // s/m, moderate down: ΔH is negative, so this saves time
  const d = -1.9998; // s/m, steep down
  const riseM = leg.climbM - leg.dropM;
  if (riseM >= 0) return a * leg.horizontalM + b * riseM;
  if (slope <= -0.2125) return a * leg.horizontalM + d * riseM;
  if (slope <= -0.0875) return a * leg.horizontalM + c * riseM;
  return a * leg.horizontalM;
}

describe('Naismith', () => {
  it('takes 6 h 34 min by 1:8 for 20 km with 1.6 km of climb, and 6.667 h by 600 m an hour', () => {
    // [P2] encyclopedia copy: 20 + 8 × 1.6 = 32.8 km at 5 km/h. [C] for the exact form.
    const equivalentM = 20_000 + 8 * 1600;
    expect(Math.round(naismithMin(equivalentM, 0))).toBe(6 * 60 + 34);
    expect(hours(naismithMin(20_000, 1600))).toBeCloseTo(6.667, 3);
  });

  it('stays within 2 % of the original in miles and feet', () => {
    // [C] miles/3 + feet/2000: 6 mi and 3,000 ft 3.5 h; 9 mi and 4,000 ft 5.0 h.
    for (const [miles, feet, originalH] of [
      [6, 3000, 3.5],
      [9, 4000, 5],
    ] as const) {
      const gotH = hours(naismithMin(miles * M_PER_MILE, feet * M_PER_FT));
      expect(Math.abs(gotH / originalH - 1)).toBeLessThan(0.02);
    }
  });

  it('takes 3.10 h up and 1.60 h down the test leg [C]', () => {
    expect(hours(naismith([UP]))).toBeCloseTo(3.1, 6);
    expect(hours(naismith([DOWN]))).toBeCloseTo(1.6, 6);
  });
});

describe('Langmuir', () => {
  it('gives a group 4.0 h for 8 km and 900 m, 7.0 h for 16 km and 1,350 m [C]', () => {
    expect(hours(langmuirGroupMin(8000, 900))).toBeCloseTo(4, 9);
    expect(hours(langmuirGroupMin(16_000, 1350))).toBeCloseTo(7, 9);
  });

  it('takes the group 2.00 h down the test leg before the correction [C], 1.50 h with it', () => {
    expect(hours(langmuirGroupMin(8000, 0))).toBeCloseTo(2, 9);
    // 900 m down at 6.4°: 3 × 10 min saved.
    expect(hours(langmuirGroup([DOWN]))).toBeCloseTo(1.5, 9);
    expect(hours(langmuirGroup([UP]))).toBeCloseTo(4, 9);
  });

  it('in seconds, Aitken’s form, agrees on 1 km of each slope [C]', () => {
    for (const [riseM, minutes] of [
      [300, 42],
      [100, 22],
      [0, 12],
      [-50, 12],
      [-100, 8.667],
      [-200, 5.334],
      [-300, 22],
    ] as const) {
      const one = leg(1000, Math.max(0, riseM), Math.max(0, -riseM));
      expect(aitkenS(one) / 60).toBeCloseTo(minutes, 2);
      // The rule in minutes is the same rule: c and d are printed as 1.9998 for 10 min per 300 m, 2 s/m.
      expect(langmuir([one])).toBeCloseTo(minutes, 2);
    }
  });

  it('takes 3.10 h up and 1.10 h down the test leg [C]', () => {
    expect(hours(langmuir([UP]))).toBeCloseTo(3.1, 6);
    expect(hours(langmuir([DOWN]))).toBeCloseTo(1.1, 6);
  });

  it('saves on a moderate descent, loses on a steep one, and leaves a gentle one alone', () => {
    const level = langmuir([leg(1000, 0, 0)]);
    expect(langmuir([leg(1000, 0, 87)])).toBe(level);
    expect(langmuir([leg(1000, 0, 88)])).toBeLessThan(level);
    expect(langmuir([leg(1000, 0, 212)])).toBeLessThan(level);
    expect(langmuir([leg(1000, 0, 213)])).toBeGreaterThan(level);
  });
});

describe('Tobler', () => {
  it('is fastest at −0.05: 6 km/h, 0.60 s/m [P2]', () => {
    expect(toblerKmH(-0.05)).toBe(6);
    expect(3.6 / toblerKmH(-0.05)).toBeCloseTo(0.6, 9);
  });

  it('gives the printed speeds at each slope in degrees [P2]', () => {
    for (const [degrees, kmH] of [
      [0, 5.04],
      [5, 3.71],
      [10, 2.72],
      [15, 1.97],
      [20, 1.41],
      [30, 0.67],
      [-5, 5.26],
      [-10, 3.86],
      [-20, 2.0],
    ] as const) {
      expect(Math.abs(toblerKmH(slopeOf(degrees)) - kmH)).toBeLessThan(0.006);
    }
  });

  it('is slower by 3/5 off path: 3.022 km/h level, 1.501 at +0.2 [C]', () => {
    expect(TOBLER_OFF_PATH * toblerKmH(0)).toBeCloseTo(3.022, 3);
    expect(TOBLER_OFF_PATH * toblerKmH(0.2)).toBeCloseTo(1.501, 3);
  });

  it('takes 2.36 h up and 1.66 h down the test leg, 6.69 h both ways off path [C]', () => {
    // The climb is 2.3547 h: the table rounds up so that the two add to its 4.01.
    expect(Math.abs(hours(tobler([UP])) - 2.36)).toBeLessThan(0.006);
    expect(Math.abs(hours(tobler([DOWN])) - 1.66)).toBeLessThan(0.006);
    expect(Math.abs(hours(tobler([UP, DOWN])) / TOBLER_OFF_PATH - 6.69)).toBeLessThan(0.006);
  });
});

describe('DIN 33466', () => {
  it('gives the alpine-club handbook’s times', () => {
    // "AV-Wegekonzept", November 2009 [P2].
    expect(hours(din33466([leg(8000, 900, 0)]))).toBeCloseTo(4, 9);
    expect(hours(din33466([leg(12_000, 300, 300)]))).toBeCloseTo(3.8, 9);
    expect(hours(din33466([leg(8000, 1200, 0)]))).toBeCloseTo(5, 9);
    // [C]
    expect(hours(din33466([leg(16_000, 1200, 1200)]))).toBeCloseTo(8.4, 9);
  });

  it('takes 4.00 h up and 2.90 h down the test leg [C]', () => {
    expect(hours(din33466([UP]))).toBeCloseTo(4, 9);
    expect(hours(din33466([DOWN]))).toBeCloseTo(2.9, 9);
  });

  it('takes a third longer when a leg is split: only whole legs may be given to it', () => {
    // Trap (a) [C]: 8 km with 600 m as one leg 3.0 h; as 8 km level and 600 m upright 4.0 h.
    expect(hours(din33466([leg(8000, 600, 0)]))).toBeCloseTo(3, 9);
    expect(hours(din33466([leg(8000, 0, 0), leg(0, 600, 0)]))).toBeCloseTo(4, 9);
  });

  it('never gains by splitting', () => {
    const metres = fc.integer({ min: 0, max: 5000 });
    fc.assert(
      fc.property(metres, metres, metres, metres, (a, b, c, d) => {
        const whole = din33466([leg(a + c, b + d, 0)]);
        const split = din33466([leg(a, b, 0), leg(c, d, 0)]);
        expect(split).toBeGreaterThanOrEqual(whole - 1e-9);
        expect(split).toBeLessThanOrEqual(whole * (4 / 3) + 1e-9);
      }),
    );
  });
});

describe('the Swiss polynomial', () => {
  it('gives the known minutes a kilometre at each slope [C]', () => {
    for (const [percent, minutes] of [
      [-40, 36],
      [-30, 27.52],
      [-20, 19.84],
      [-10, 14.21],
      [0, 14.271],
      [10, 20],
      [20, 32.33],
      [30, 48.79],
      [40, 68],
    ] as const) {
      expect(Math.abs(swissMinPerKm(percent / 10) - minutes)).toBeLessThan(0.006);
    }
    // "4.2 km/h" on the level, as published.
    expect(60 / swissMinPerKm(0)).toBeCloseTo(4.204, 3);
  });

  it('takes 2.812 h up and 1.963 h down the test leg [C]', () => {
    expect(hours(swiss([UP]))).toBeCloseTo(2.812, 3);
    expect(hours(swiss([DOWN]))).toBeCloseTo(1.963, 3);
  });

  it('steps by less than a minute and a half a kilometre where it leaves the polynomial', () => {
    for (const tenths of [-4, 4]) {
      const inside = swissMinPerKm(tenths * (1 - 1e-9));
      expect(Math.abs(swissMinPerKm(tenths) - inside)).toBeLessThan(1.5);
    }
  });
});

describe('Munter', () => {
  it('takes 3 h 38 min at 4 and 1 h 27 min at 10 for 9.5 km and 500 m [P2]', () => {
    expect(Math.round(munterMin(9500, 500, 4))).toBe(3 * 60 + 38);
    expect(Math.round(munterMin(9500, 500, 10))).toBe(60 + 27);
  });

  it('takes 4.25 h up and 2.83 h down the test leg [C]', () => {
    expect(hours(munter([UP]))).toBeCloseTo(4.25, 9);
    expect(hours(munter([DOWN]))).toBeCloseTo(2.833, 3);
  });
});

describe('the trade rule', () => {
  it('takes 6.5 h for 7 mi and 3,000 ft, 9.0 h for 10 mi and 4,000 ft [C]', () => {
    expect(hours(tradeRuleMin(7 * M_PER_MILE, 3000 * M_PER_FT))).toBeCloseTo(6.5, 9);
    expect(hours(tradeRuleMin(10 * M_PER_MILE, 4000 * M_PER_FT))).toBeCloseTo(9, 9);
  });

  it('takes 7.92 h for the test leg and back [C]', () => {
    expect(Math.abs(hours(tradeRule([UP, DOWN])) - 7.92)).toBeLessThan(0.006);
  });

  it('goes down by the slower of it and DIN 33466: 150 min for 4 km with 1,000 m of drop, not 75', () => {
    expect(Math.round(tradeRuleMin(4000, 0))).toBe(75);
    expect(slowerDownMin(4000, 1000)).toBeCloseTo(150, 9);
    expect(cautiousTradeRule([leg(4000, 0, 1000)])).toBeCloseTo(150, 9);
  });

  it('is the slower one on a gentle descent', () => {
    expect(slowerDownMin(8000, 100)).toBe(tradeRuleMin(8000, 0));
  });

  it('goes up and level as it is said', () => {
    expect(cautiousTradeRule([UP])).toBe(tradeRule([UP]));
    expect(cautiousTradeRule([leg(4000, 0, 0)])).toBe(tradeRule([leg(4000, 0, 0)]));
  });

  it('follows a program’s own rates', () => {
    expect(tradeRuleMin(10_000, 600, { minPerKm: 15, minPerClimbM: 0.2 })).toBeCloseTo(270, 9);
  });
});

describe('every rule', () => {
  const metres = fc.integer({ min: 0, max: 20_000 });
  const climb = fc.integer({ min: 0, max: 3000 });
  const whole = fc.oneof(
    fc.tuple(metres, climb).map(([lengthM, climbM]) => leg(lengthM, climbM, 0)),
    fc.tuple(metres, climb).map(([lengthM, dropM]) => leg(lengthM, 0, dropM)),
  );

  it('has a key of its own, a name and a source', () => {
    expect(new Set(HIKING_RULES.map(({ key }) => key)).size).toBe(HIKING_RULES.length);
    for (const { name, source } of HIKING_RULES) expect(name.length * source.length).toBeGreaterThan(0);
  });

  it('counts every leg, the last one too', () => {
    // Trap (g).
    for (const { key, minutes } of HIKING_RULES) {
      const sum = minutes([UP]) + minutes([DOWN]) + minutes([leg(1000, 0, 0)]);
      expect(minutes([UP, DOWN, leg(1000, 0, 0)]), key).toBeCloseTo(sum, 6);
    }
  });

  it('takes no time for no legs, or for a leg of nothing', () => {
    for (const { key, minutes } of HIKING_RULES) {
      expect(minutes([]), key).toBe(0);
      expect(Math.abs(minutes([leg(0, 0, 0)])), key).toBe(0);
    }
  });

  it('keeps the sign of the slope: the test leg is slower up than down', () => {
    for (const { key, minutes } of HIKING_RULES) {
      expect(minutes([UP]), key).toBeGreaterThan(minutes([DOWN]));
    }
  });

  it('gives a finite time, straight up and down too', () => {
    for (const { key, minutes } of HIKING_RULES) {
      for (const upright of [leg(0, 100, 0), leg(0, 0, 100)]) {
        expect(minutes([upright]), key).toBeGreaterThanOrEqual(0);
        expect(Number.isFinite(minutes([upright])), key).toBe(true);
      }
    }
    fc.assert(
      fc.property(fc.array(whole), (legs) => {
        for (const { key, minutes } of HIKING_RULES) {
          const got = minutes(legs);
          expect(Number.isFinite(got) && got >= 0, key).toBe(true);
        }
      }),
    );
  });

  it('reads the same 10 % in its own unit', () => {
    // Trap (f): Swiss in tenths, Tobler as a ratio, Langmuir's limits as ratios of degrees.
    const tenPercent = leg(1000, 100, 0);
    expect(swiss([tenPercent])).toBeCloseTo(20, 2);
    expect(tobler([tenPercent])).toBeCloseTo(60 / (6 * Math.exp(-3.5 * 0.15)), 9);
    expect(langmuir([tenPercent])).toBeCloseTo(22, 9);
  });
});

describe('a leg that holds climb and drop', () => {
  it('is taken as its climb and its drop, with nothing lost', () => {
    const both = leg(9000, 600, 300);
    const parts = monotoneParts(both);
    expect(parts).toEqual([leg(6000, 600, 0), leg(3000, 0, 300)]);
    expect(tobler([both])).toBeCloseTo(tobler(parts), 9);
    expect(tobler([both])).toBeGreaterThan(tobler([leg(9000, 300, 0)]));
  });

  it('stays one leg for DIN 33466', () => {
    expect(din33466([leg(12_000, 300, 300)])).toBe(din33466Min(leg(12_000, 300, 300)));
  });
});
