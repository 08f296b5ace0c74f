import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { packOf, packReliefs } from '../../src/plan/pack.ts';

const shares = DESIGN.supplies.packShare;
const KG_PER_LB = 0.453_592_37;

describe('a pack', () => {
  it.each([
    // Hospital page in sources.md §8 [P2]: a child of 60 lb, 6 lb is 10 %; 9 to 12 lb are 15 to 20 %.
    [6, 60, 'withinTarget'],
    [7, 60, 'overTarget'],
    [9.01, 60, 'warning'],
    [12.01, 60, 'conflict'],
    [20.01, 100, 'conflict'],
  ])('of %f lb on a child of %i lb is %s', (packLb, childLb, level) => {
    const parts = { kitKg: packLb * KG_PER_LB, waterKg: 0, foodKg: 0 };
    expect(packOf(parts, childLb * KG_PER_LB, true, shares).level).toBe(level);
  });

  it('of an adult may weigh 20 % of the body', () => {
    expect(packOf({ kitKg: 16, waterKg: 0, foodKg: 0 }, 80, false, shares).level).toBe('withinTarget');
    expect(packOf({ kitKg: 16.1, waterKg: 0, foodKg: 0 }, 80, false, shares).level).toBe('warning');
  });

  it('is never a smaller share of the body with more water in it', () => {
    const kg = fc.double({ min: 0, max: 20, noNaN: true });
    fc.assert(
      fc.property(kg, kg, kg, kg, (kitKg, foodKg, one, other) => {
        const at = (waterKg: number) => packOf({ kitKg, foodKg, waterKg }, 36, true, shares).share;
        expect(at(Math.max(one, other))).toBeGreaterThanOrEqual(at(Math.min(one, other)));
      }),
    );
  });

  it('refuses a body without mass', () => {
    expect(() => packOf({ kitKg: 1, waterKg: 0, foodKg: 0 }, 0, true, shares)).toThrow(RangeError);
  });
});

describe('the ways out of a heavy pack', () => {
  const pack = packOf({ kitKg: 2, waterKg: 5, foodKg: 1 }, 36, true, shares);
  const leaderPack = packOf({ kitKg: 5, waterKg: 5, foodKg: 1 }, 82, false, shares);
  const question = {
    pack,
    minors: true,
    sharedKitKg: 0.2,
    refillSavesKg: 2,
    participants: 6,
    leaders: { count: 2, pack: leaderPack },
  };

  it('say in kilograms what each saves and what it makes of the leaders’ packs', () => {
    const reliefs = packReliefs(question, shares);
    expect(pack.level).toBe('conflict');
    expect(reliefs.map(({ kind }) => kind)).toEqual(['refill', 'sharedKit', 'adultsCarry', 'together']);
    expect(reliefs[0]?.pack.totalKg).toBeCloseTo(6, 9);
    expect(reliefs[1]?.leader?.addsKg).toBeCloseTo(0.6, 9);
    // 15 % of 36 kg is 5.4 kg: 2.6 kg off each of three, onto one leader.
    expect(reliefs[2]?.savesEachKg).toBeCloseTo(2.6, 9);
    expect(reliefs[2]?.leader?.totalKg).toBeCloseTo(11 + 7.8, 9);
    expect(reliefs[3]?.pack.totalKg).toBeCloseTo(5.4, 9);
    expect(reliefs[3]?.leader?.totalKg).toBeCloseTo(11 - 2 + 1.8, 9);
  });

  it('are none where the pack is not heavy', () => {
    const light = packOf({ kitKg: 2, waterKg: 2, foodKg: 0.5 }, 36, true, shares);
    expect(packReliefs({ ...question, pack: light }, shares)).toEqual([]);
  });

  it('ask nothing of leaders who are not there, nor among adults', () => {
    expect(packReliefs({ ...question, leaders: null }, shares).map(({ kind }) => kind)).toEqual(['refill']);
    const heavy = packOf({ kitKg: 10, waterKg: 5, foodKg: 3 }, 82, false, shares);
    const adults = { ...question, pack: heavy, minors: false };
    expect(packReliefs(adults, shares).map(({ kind }) => kind)).toEqual(['refill']);
  });

  it('together never load a leader beyond the adults’ target, unless the leader is there already', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 6, max: 25, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        fc.integer({ min: 1, max: 20 }),
        fc.integer({ min: 1, max: 5 }),
        (totalKg, refillSavesKg, participants, count) => {
          const heavy = packOf({ kitKg: 1, waterKg: totalKg - 1, foodKg: 0 }, 36, true, shares);
          const together = packReliefs(
            { ...question, pack: heavy, refillSavesKg, participants, leaders: { count, pack: leaderPack } },
            shares,
          ).find(({ kind }) => kind === 'together');
          if (heavy.level === 'overTarget') expect(together).toBeUndefined();
          else expect(together?.leader?.share).toBeLessThanOrEqual(shares.adultTarget + 1e-9);
        },
      ),
    );
  });
});
