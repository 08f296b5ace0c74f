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
    expect(result.water.each).toEqual({ exactL: 4.5, packedL: 4.5 });
    expect(result.water.party.packedL).toBe(11 * 4.5);
    expect(result.participant.food.carryKcal).toBe(8 * 250 + 500);
    expect(result.leader?.food.carryKcal).toBe(8 * 300 + 500);
    expect(result.partyFood.kcal).toBe(9 * 2500 + 2 * 2900);
  });

  it('let the packs hold all water from the start, whatever is stated on the way', () => {
    const result = supplies(question, DESIGN);
    expect(result.participant.pack.waterKg).toBe(4.5);
    expect(result.refill?.greatest.packedL).toBe(2.5);
    expect(result.reliefs[0]).toMatchObject({ kind: 'refill', savesEachKg: 2 });
  });

  it('take the work of a leader by body mass', () => {
    const result = supplies({ ...question, energyKcal: { value: 5300 } }, DESIGN);
    expect(result.participant.food.workWithMarginKcal).toBeCloseTo(5300 * 1.15, 6);
    expect(result.leader?.food.workWithMarginKcal).toBeCloseTo(8200 * 1.15, 6);
  });

  it('take the youngest body and the greater appetite where the age is not stated', () => {
    const result = supplies({ ...question, ageBand: null }, DESIGN);
    expect(result.minors).toBe(true);
    expect(result.participant.pack.bodyKg).toBe(DESIGN.massKg['8-11']);
    expect(result.participant.food.eatKcal).toBe(8 * 300);
  });

  it('leave out leaders who are not stated, and say so', () => {
    const result = supplies({ ...question, leaders: null }, DESIGN);
    expect(result.water.party.packedL).toBe(9 * 4.5);
    expect(result.reliefs.map(({ kind }) => kind)).toEqual(['refill']);
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
        expect(longer.participant.pack.share).toBeGreaterThanOrEqual(shorter.participant.pack.share);
        expect(longer.water.party.packedL).toBeCloseTo((many + leaders) * longer.water.each.packedL, 9);
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
    expect(page).toContain('Each carries 4.5 L from the start; 49.5 L for 11 people.');
    expect(page).toContain('All from the start: 4.5 L each.');
    expect(page).toContain('With refill at Thrush Spring: 2.5 L each from the start');
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
    expect(unknown).toContain('0.5 L an hour, taken because the forecast is not known');
    expect(unknown).toContain('If it is warm: 0.75 L an hour, 6.5 L each.');
    expect(text({ warm: null, highM: null })).toContain(
      'the forecast and the height of the route are not known',
    );
    expect(text({})).toContain('If it is warm: 0.75 L an hour, 6.5 L each.');
    expect(text({ highM: 3400 })).toContain('because the day goes above 3,000 m.');
  });

  it('name the conflict of a heavy pack and its ways out in numbers', () => {
    const page = text({ ageBand: '8-11', warm: true });
    expect(page).toContain('a conflict to solve before the day, and not by leaving water behind');
    expect(page).toMatch(/Refill on the way at Thrush Spring: \d\.\d kg less each/);
    expect(page).toMatch(/The leaders take part of the load: .* Each leader then has \d+\.\d kg, \d+ %/);
    expect(text({ ageBand: '8-11', warm: true, waterPoints: [], leaders: 0 })).toContain(
      'From what is stated no way out can be counted',
    );
  });

  it('keep litres on the page in US units, with quarts that hold as much', () => {
    const page = text({}, 'us');
    expect(page).toContain('Each carries 4.5 L (4.8 qt) from the start');
    expect(page).not.toMatch(/\d kg|\d km|\d °C/);
  });

  it('ask about allergies and keep no answer', () => {
    expect(text({})).toContain('Ask every family about allergies');
  });

  it('speak of snow as water only where it lies', () => {
    expect(text({ snowOnGround: true })).toContain('Snow is not counted as water');
    expect(text({ snowOnGround: null })).not.toContain('Snow');
  });
});
