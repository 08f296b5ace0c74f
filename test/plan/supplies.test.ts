import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { foodLines, packLines, waterLines } from '../../src/document/supplies-text.ts';
import { type SuppliesQuestion, supplies } from '../../src/plan/supplies.ts';

const question: SuppliesQuestion = {
  ageBand: '12-14',
  participants: 9,
  leaders: 2,
  dayMin: { p10: 400, p50: 420, p90: 480 },
  energyKcal: { value: 1900 },
  highM: 1980,
  warm: false,
  hot: false,
  waterPoints: [{ name: 'Thrush Spring', distanceM: 4200, afterMin: 210, notes: 'a trickle in August' }],
  snowOnGround: null,
};
const text = (changes: Partial<SuppliesQuestion>, units: 'metric' | 'us' = 'metric'): string => {
  const result = supplies({ ...question, ...changes }, DESIGN);
  return [waterLines, foodLines, packLines]
    .flatMap((lines) => lines(result, units, DESIGN))
    .map((line) => (typeof line === 'string' ? line : (line?.text ?? '')))
    .join('\n');
};

describe('the supplies of a day', () => {
  it('are counted for the late day and for the whole party', () => {
    const result = supplies(question, DESIGN);
    expect(result.hours).toBe(8);
    // By mass to the power of 0.67: 48.2 of 75 kg drink 0.744 of 0.5 L an hour.
    expect(result.water.each.exactL).toBeCloseTo(0.744 * 4 + 0.5, 2);
    expect(result.water.each.packedL).toBe(3.5);
    expect(result.leaderWater?.each.packedL).toBe(4.5);
    expect(result.water.party.packedL).toBe(9 * 3.5 + 2 * 4.5);
    expect(result.participant.food.carryKcal).toBe(8 * 250 + 500);
    expect(result.leader?.food.carryKcal).toBe(8 * 300 + 500);
    expect(result.partyFood.kcal).toBe(9 * 2500 + 2 * 2900);
  });

  it('let the packs hold all water from the start, unless that is too much for a minor', () => {
    const result = supplies(question, DESIGN);
    expect(result.load).toEqual({ kind: 'full', startL: 3.5, mostL: 3.5, fills: 0 });
    expect(result.participant.pack.waterKg).toBe(3.5);
    expect(result.refill?.greatest.packedL).toBe(2);
    const small = { ...question, ageBand: '8-11' as const, warm: true };
    const stated = supplies(small, DESIGN);
    expect(stated.load).toMatchObject({ kind: 'stated', fills: 1 });
    expect(stated.participant.pack.share).toBeLessThan(0.2);
    const planned = supplies({ ...small, waterPoints: [] }, DESIGN);
    expect(planned.load).toMatchObject({ kind: 'planned', fills: 1 });
    expect(planned.participant.pack.share).toBeLessThan(0.2);
    expect(text({ ...small, waterPoints: [] })).toContain(
      'fills up 1 time on the way. No such water is stated',
    );
  });

  it('never print a minor’s pack of 20 % that filling up on the way mends, and never less water for it', () => {
    const minutes = fc.integer({ min: 60, max: 1300 });
    const band = fc.constantFrom('8-11' as const, '12-14' as const, '15-17' as const, null);
    fc.assert(
      fc.property(
        minutes,
        band,
        fc.boolean(),
        fc.boolean(),
        fc.boolean(),
        (p90, ageBand, warm, hot, isStated) => {
          const dayMin = { p10: p90, p50: p90, p90 };
          const points = isStated ? question.waterPoints : [];
          const { load, participant, water } = supplies(
            { ...question, ageBand, warm, hot, dayMin, waterPoints: points },
            DESIGN,
          );
          expect(water.ratePerHL).toBeLessThanOrEqual(water.mostPerHL);
          if (load.kind !== 'tooHeavy') expect(participant.pack.share).toBeLessThan(0.2);
          if (load.kind === 'planned') {
            expect(load.startL + load.fills * load.mostL).toBeGreaterThanOrEqual(water.each.packedL);
          }
        },
      ),
    );
  });

  it('give a child a lower cap than a grown-up, and no child less than the low end of the range', () => {
    const caps = (['8-11', '12-14', '15-17', 'adult'] as const).map(
      (ageBand) => supplies({ ...question, ageBand }, DESIGN).water,
    );
    expect(caps.map(({ mostPerHL }) => mostPerHL)).toEqual([0.55, 0.7, 0.85, 1]);
    expect(caps[0]?.ratePerHL).toBe(0.33);
  });

  it('take the work of a leader by body mass', () => {
    const result = supplies({ ...question, energyKcal: { value: 5300 } }, DESIGN);
    expect(result.participant.food.workWithMarginKcal).toBeCloseTo(5300 * 1.15, 6);
    expect(result.leader?.food.workWithMarginKcal).toBeCloseTo(8200 * 1.15, 6);
  });

  it('take the youngest body and the greater appetite where the age is not stated', () => {
    const result = supplies({ ...question, ageBand: null }, DESIGN);
    expect(result.minors).toBe(true);
    expect(result.participant.pack.bodyKg).toBe(32);
    expect(result.participant.food.eatKcal).toBe(8 * 300);
  });

  it('leave out leaders who are not stated, and say so', () => {
    const result = supplies({ ...question, leaders: null }, DESIGN);
    expect(result.water.party.packedL).toBe(9 * 3.5);
    expect(text({ leaders: null })).toContain('how many leaders go is not stated');
    expect(supplies({ ...question, leaders: 0 }, DESIGN).leader).toBeNull();
  });

  it('rise with hours, and water is the sum of what each has', () => {
    const minutes = fc.integer({ min: 0, max: 1500 });
    const band = fc.constantFrom('8-11' as const, '12-14' as const, '15-17' as const, 'adult' as const, null);
    fc.assert(
      fc.property(minutes, minutes, band, fc.nat(20), fc.nat(5), (one, other, ageBand, many, leaders) => {
        const at = (p90: number) =>
          supplies(
            { ...question, ageBand, participants: many, leaders, dayMin: { p10: p90, p50: p90, p90 } },
            DESIGN,
          );
        const shorter = at(Math.min(one, other));
        const longer = at(Math.max(one, other));
        expect(longer.water.each.packedL).toBeGreaterThanOrEqual(shorter.water.each.packedL);
        expect(longer.partyFood.kcal).toBeGreaterThanOrEqual(shorter.partyFood.kcal);
        expect(longer.water.party.packedL).toBeCloseTo(
          many * longer.water.each.packedL + leaders * (longer.leaderWater?.each.packedL ?? 0),
          9,
        );
        expect(JSON.stringify(longer)).not.toContain('NaN');
      }),
    );
  });

  it('refuse half a person', () => {
    expect(() => supplies({ ...question, participants: 1.5 }, DESIGN)).toThrow(RangeError);
    expect(() => supplies({ ...question, leaders: -1 }, DESIGN)).toThrow(RangeError);
  });
});

describe('the supplies for people', () => {
  it('say both ways of carrying water, and that a source may be dry', () => {
    const page = text({});
    expect(page).toContain(
      'Each child or teenager carries 3.5 L from the start, a leader 4.5 L; 40.5 L for 11 people.',
    );
    expect(page).toContain('All from the start: 3.5 L each.');
    expect(page).toContain('With refill at Thrush Spring: 2.0 L each from the start');
    expect(page).toContain('may be dry or frozen');
    expect(page).toContain('Thrush Spring: at 4.2 km, after 3 h 30 min. Stated: a trickle in August');
    expect(page).toContain('Treat all natural water');
  });

  it('say where no water on the way is counted', () => {
    const unplaced = [{ name: 'Well', distanceM: null, afterMin: null, notes: null }];
    expect(text({ waterPoints: [] })).toContain('No water on the way is counted');
    expect(text({ waterPoints: unplaced })).toContain('Well: time on the way not known, so not counted.');
  });

  it('say which weather was taken and what would change', () => {
    const unknown = text({ warm: null });
    expect(unknown).toContain('0.37 L an hour, taken because the forecast is not known');
    expect(unknown).toContain('If it is warm: 0.56 L an hour, 5.0 L each.');
    expect(text({ warm: null, highM: null })).toContain(
      'the forecast and the height of the route are not known',
    );
    expect(text({})).toContain('If it is warm: 0.56 L an hour, 5.0 L each.');
    expect(text({ highM: 3400 })).toContain('because the day goes above 3,000 m.');
  });

  it('name the conflict of a heavy pack and its ways out in numbers', () => {
    const long = { p10: 1400, p50: 1500, p90: 1900 };
    const page = text({ ageBand: '8-11', warm: true, waterPoints: [], dayMin: long });
    expect(page).toContain('Each child or teenager needs');
    expect(page).toMatch(/The leaders take part of the load: .* Each leader then has \d+\.\d kg, \d+ %/);
    expect(text({ ageBand: '8-11', warm: true, waterPoints: [], leaders: 0, dayMin: long })).toContain(
      'From what is stated no way out can be counted',
    );
  });

  it('keep litres on the page in US units, with quarts that hold as much', () => {
    const page = text({}, 'us');
    expect(page).toContain('Each child or teenager carries 3.5 L (3.7 qt) from the start');
    expect(page).not.toMatch(/\d kg|\d km|\d °C/);
  });

  it('speak once of protein at lunch and after, and of those who are not hungry', () => {
    expect(text({}).match(/protein/g)).toHaveLength(2);
    expect(text({})).toContain('many are not hungry');
  });

  it('ask about allergies and keep no answer', () => {
    expect(text({})).toContain('Ask every family about allergies');
  });

  it('speak of snow as water only where it lies', () => {
    expect(text({ snowOnGround: true })).toContain('Snow is not counted as water');
    expect(text({ snowOnGround: null })).not.toContain('Snow');
  });
});
