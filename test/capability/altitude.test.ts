import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AltitudeHistory,
  aerobicFraction,
  uphillFactor,
  wmsColumn,
} from '../../src/capability/altitude.ts';
import { DESIGN } from '../../src/design.ts';

// Marks: [P] printed in the source; [P2] in a secondary page; [C] computed; [M] from memory.

describe('aerobic capacity', () => {
  it('follows the unacclimatised curve [C, coefficients M]', () => {
    for (const [km, percent] of [
      [1, 94.68],
      [2, 87.56],
      [3, 79.73],
      [4, 72.23],
      [4.3, 70.21],
    ] as const) {
      expect(Math.abs(100 * aerobicFraction(1000 * km) - percent)).toBeLessThan(0.011);
    }
  });

  it('is within 3 points of what was measured at 4,000 m', () => {
    // Buskirk et al. 1967, J Appl Physiol 23:259-266 [P]: −26 % at 4,000 m against 300 m.
    const changePercent = 100 * (aerobicFraction(4000) / aerobicFraction(300) - 1);
    expect(Math.abs(changePercent - -26)).toBeLessThan(3);
  });

  it('is whole at and below the sea, never above 1, and never rises with elevation', () => {
    expect(aerobicFraction(0)).toBe(1);
    expect(aerobicFraction(-400)).toBe(1);
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 9000 }), (elevationM) => {
        const here = aerobicFraction(elevationM);
        expect(here).toBeLessThanOrEqual(1);
        expect(here).toBeGreaterThan(0.6);
        expect(aerobicFraction(elevationM + 1)).toBeLessThanOrEqual(here + 1e-9);
      }),
    );
  });

  it('slows the climb against where the group trained, and never speeds it', () => {
    expect(uphillFactor(3000, 0)).toBeCloseTo(1 / 0.7973, 3);
    expect(uphillFactor(3000, 2000)).toBeCloseTo(0.8756 / 0.7973, 3);
    expect(uphillFactor(2000, 2000)).toBe(1);
    expect(uphillFactor(1000, 2000)).toBe(1);
  });
});

describe('the risk column of altitude illness', () => {
  const ask = (
    sleepElevationM: number,
    history: AltitudeHistory,
    summitM = 2501,
    homeM: number | null = 300,
  ) => wmsColumn({ sleepElevationM, history, summitM, homeM });

  it('follows history and sleeping elevation', () => {
    // WMS 2024, reproduced table [P].
    expect(ask(2500, 'none').column).toBe('low');
    expect(ask(2900, 'none').column).toBe('moderate');
    expect(ask(3600, 'none').column).toBe('high');
    expect(ask(2000, 'hapeHace').column).toBe('high');
    expect(ask(2000, 'mild').column).toBe('low');
    expect(ask(2000, 'severe').column).toBe('moderate');
  });

  it('changes at 2,800 m and above 3,500 m', () => {
    expect(ask(2799, 'none').column).toBe('low');
    expect(ask(2800, 'none').column).toBe('moderate');
    expect(ask(3500, 'none').column).toBe('moderate');
    expect(ask(3501, 'none').column).toBe('high');
    expect(ask(0, 'none').column).toBe('low');
  });

  it('goes by where the group sleeps, not by the summit', () => {
    // Trap (i): a summit of 3,400 m from a bed at 900 m is low; a bed at 3,400 m is not.
    expect(ask(900, 'none', 3400).column).toBe('low');
    expect(ask(3400, 'none', 3400).column).toBe('moderate');
    expect(ask(900, 'none', 4300).column).not.toBe('high');
  });

  it('is at least moderate for a summit over 3,500 m from a low home, or one of unknown elevation', () => {
    expect(ask(900, 'none', 3501, 1199).column).toBe('moderate');
    expect(ask(900, 'none', 3501, null).column).toBe('moderate');
    expect(ask(900, 'none', 3501, 0).column).toBe('moderate');
    expect(ask(900, 'none', 3501, 1200).column).toBe('low');
    expect(ask(900, 'none', 3500, 0).column).toBe('low');
    expect(ask(900, 'hapeHace', 3501, 0).column).toBe('high');
  });

  it('names what decided', () => {
    expect(ask(2900, 'none', 4000).grounds).toEqual([
      { by: 'sleep', sleepM: 2900 },
      { by: 'summit', summitM: 4000, homeM: 300 },
    ]);
    expect(ask(2000, 'hapeHace', 4000).grounds).toEqual([{ by: 'history', history: 'hapeHace' }]);
    expect(ask(900, 'none').grounds.map(({ by }) => by)).toEqual(['sleep', 'history']);
  });

  it('never falls when anything gets worse', () => {
    const rank = { low: 0, moderate: 1, high: 2 };
    const histories = ['none', 'mild', 'severe', 'hapeHace'] as const;
    const elevation = fc.integer({ min: 0, max: 5000 });
    fc.assert(
      fc.property(
        elevation,
        elevation,
        fc.integer({ min: 0, max: 2 }),
        fc.nat(1000),
        (sleepM, summitM, h, more) => {
          const mild = histories[h] ?? 'none';
          const worse = histories[h + 1] ?? 'hapeHace';
          const now = rank[ask(sleepM, mild, summitM).column];
          expect(rank[ask(sleepM + more, mild, summitM).column]).toBeGreaterThanOrEqual(now);
          expect(rank[ask(sleepM, mild, summitM + more).column]).toBeGreaterThanOrEqual(now);
          expect(rank[ask(sleepM, worse, summitM).column]).toBeGreaterThanOrEqual(now);
        },
      ),
    );
  });

  it('takes a program’s own limits', () => {
    const limits = { ...DESIGN.altitude, lowSleepM: 2000, highSleepM: 3000 };
    const question = { sleepElevationM: 2500, history: 'none', summitM: 2600, homeM: 300 } as const;
    expect(wmsColumn(question, limits).column).toBe('moderate');
  });
});
