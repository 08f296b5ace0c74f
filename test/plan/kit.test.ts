import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { type KitCode, type KitItem, type KitQuestion, kit, TEN_ESSENTIALS } from '../../src/plan/kit.ts';
import { KIT_QUESTION as question } from '../support/kit-question.ts';

const items = (changes: Partial<KitQuestion> = {}): readonly KitItem[] =>
  kit({ ...question, ...changes }, DESIGN).items;
const find = (code: KitCode, changes: Partial<KitQuestion> = {}): KitItem | undefined =>
  items(changes).find((item) => item.code === code);

describe('the kit', () => {
  it('holds all ten essentials, in their order', () => {
    const systems = [...new Set(items().map(({ system }) => system))];
    expect(systems.slice(0, TEN_ESSENTIALS.length)).toEqual(TEN_ESSENTIALS);
  });

  it('has a headlamp each even where no hours of dark are planned', () => {
    expect(find('headlamp')).toMatchObject({ who: 'each', count: 11 });
    expect(find('headlamp', { headlampMin: { p50: 0, p90: 0 } })?.count).toBe(11);
  });

  it('keeps fire, knife, first aid and medicines with an adult where minors go or age is not stated', () => {
    for (const ageBand of ['8-11', '15-17', null] as const) {
      for (const code of ['repair', 'fire', 'firstAid', 'medicines'] as const) {
        expect(find(code, { party: { ...question.party, ageBand } })?.who).toBe('adult');
      }
    }
    const adults = { ...question.party, ageBand: 'adult' } as const;
    expect(find('repair', { party: adults })?.who).toBe('group');
    expect(find('medicines', { party: adults })).toBeUndefined();
  });

  it('sizes shelters and dressings for the party', () => {
    expect(find('shelter')?.count).toBe(2);
    expect(find('shelter', { party: { participants: 6, leaders: 2, ageBand: '12-14' } })?.count).toBe(1);
    expect(find('blisters')?.count).toBe(22);
  });

  it('counts at least the program’s leaders where none are stated', () => {
    expect(find('whistle', { party: { participants: 9, leaders: null, ageBand: '12-14' } })?.count).toBe(11);
  });

  it('plans on a cold day of the date, and says how much colder than the trailhead the top is', () => {
    const cold = kit(question, DESIGN).summit;
    expect(cold?.coldC).toBeCloseTo(2.3, 1);
    const winter = kit({ ...question, date: '2026-01-15' }, DESIGN).summit;
    expect(winter?.coldC).toBeCloseTo(-22.5, 1);
    expect(kit({ ...question, latDeg: null }, DESIGN).summit?.coldC).toBeCloseTo(2.13, 9);
    expect(cold?.colderK?.mean).toBeCloseTo(8.32, 9);
  });

  it('takes the harder case where height or class is not known', () => {
    expect(kit({ ...question, highM: null }, DESIGN).summit).toBeNull();
    expect(find('secondLayer', { highM: null })).toBeDefined();
    expect(find('helmet', { rockClass: null })?.count).toBe(11);
  });

  it.each([
    ['1', false],
    ['2+', false],
    ['3-', true],
    ['2s3', true],
    ['5.4', true],
  ])('for class %s asks for helmets: %s', (rockClass, wanted) => {
    expect(find('helmet', { rockClass }) !== undefined).toBe(wanted);
  });

  it('asks for the avalanche report where snow may lie and steep ground is there or not known', () => {
    const winter = { date: '2026-01-15' };
    expect(find('avalanche', winter)).toBeDefined();
    expect(find('avalanche', { ...winter, steep30to50: null })).toBeDefined();
    expect(find('avalanche', { ...winter, steep30to50: false })).toBeUndefined();
    expect(find('avalanche')).toBeUndefined();
    expect(find('avalanche', { surface: 'snow' })).toBeDefined();
    // July is winter in the south, and may be where the latitude is not known.
    expect(find('avalanche', { latDeg: -43 })).toBeDefined();
    expect(find('avalanche', { latDeg: null })).toBeDefined();
    expect(find('avalanche', { latDeg: 0 })).toBeUndefined();
  });

  it('gives the keys to two adults', () => {
    expect(find('keys')).toMatchObject({ who: 'adult', count: 2 });
  });

  it('charges the phone for all of the late day, twice as often in the cold', () => {
    const dayMin = { p10: 1, p50: 1, p90: 720 };
    expect(kit({ ...question, highM: 900, dayMin }, DESIGN).phone.charges).toBe(1);
    expect(kit({ ...question, date: '2026-01-15', dayMin }, DESIGN).phone.charges).toBe(3);
  });

  it('never asks for less of anything when more people go', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 0, max: 6 }),
        (participants, leaders) => {
          const some = items({ party: { participants, leaders, ageBand: '12-14' } });
          const more = items({ party: { participants: participants + 1, leaders, ageBand: '12-14' } });
          expect(some.every(({ count }, i) => count >= 1 && count <= (more[i]?.count ?? 0))).toBe(true);
        },
      ),
    );
  });

  it('refuses a party, a date or a day that is none', () => {
    expect(() => items({ party: { participants: 0, leaders: 0, ageBand: '12-14' } })).toThrow(RangeError);
    expect(() => items({ date: '2026-13-01' })).toThrow(RangeError);
    expect(() => items({ dayMin: { p10: 0, p50: 0, p90: Number.NaN } })).toThrow(RangeError);
  });
});
