import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { kit, kitLines } from '../../src/plan/kit.ts';
import { type KitItem, type KitQuestion, TEN_ESSENTIALS } from '../../src/plan/kit-day.ts';

const question: KitQuestion = {
  party: { participants: 9, leaders: 2 },
  ageBand: '12-14',
  rockClass: '2',
  surface: 'rough',
  dayMin: { p10: 400, p50: 460, p90: 540 },
  headlampMin: { p50: 40, p90: 85 },
  highM: 1980,
  trailheadM: 700,
  aboveTreelineMin: 130,
  steep30to50: true,
  month: 7,
  latDeg: 46.1,
};
const items = (changes: Partial<KitQuestion> = {}, units: 'metric' | 'us' = 'metric'): readonly KitItem[] =>
  kit({ ...question, ...changes }, DESIGN, units).items;
const find = (what: string, changes: Partial<KitQuestion> = {}): KitItem | undefined =>
  items(changes).find((item) => item.what.startsWith(what));

describe('the kit', () => {
  it('holds all ten essentials, in their order', () => {
    const systems = [...new Set(items().map(({ system }) => system))];
    expect(systems.slice(0, TEN_ESSENTIALS.length)).toEqual(TEN_ESSENTIALS);
  });

  it('gives every item a reason with a figure of the day', () => {
    for (const units of ['metric', 'us'] as const) {
      expect(items({}, units).filter(({ why }) => !/\d/.test(why))).toEqual([]);
    }
  });

  it('counts hours of dark for the late day, and a headlamp each even where none are planned', () => {
    expect(find('Headlamp')).toMatchObject({ who: 'each', count: 11 });
    expect(find('Headlamp')?.why).toContain('1 h 25 min on a late one');
    const day = find('Headlamp', { headlampMin: { p50: 0, p90: 0 } });
    expect(day?.count).toBe(11);
    expect(day?.why).toContain('0 min in the dark are planned');
  });

  it('keeps fire, knife, first aid and medicines with an adult where minors go or age is not stated', () => {
    for (const ageBand of ['8-11', '15-17', null] as const) {
      for (const what of ['Knife', 'Lighter', 'First-aid', 'Medicines']) {
        expect(find(what, { ageBand })?.who).toBe('adult');
      }
    }
    expect(find('Knife', { ageBand: 'adult' })?.who).toBe('group');
    expect(find('Medicines', { ageBand: 'adult' })).toBeUndefined();
  });

  it('says which medicine is the program’s policy, and gives no advice on any', () => {
    const all = kitLines(kit(question, DESIGN, 'metric')).join('\n');
    expect(all).toContain('as the program’s policy says');
    expect(all).not.toMatch(/\b(mg|dose|tablet|acetazolamide|ibuprofen|aspirin|paracetamol|antihistamine)/i);
  });

  it('sizes shelters and dressings for the party', () => {
    expect(find('Group shelter')?.count).toBe(2);
    expect(find('Group shelter', { party: { participants: 6, leaders: 2 } })?.count).toBe(1);
    expect(find('Blister')?.count).toBe(22);
  });

  it('counts at least the program’s leaders where none are stated', () => {
    expect(find('Whistle', { party: { participants: 9, leaders: null } })?.count).toBe(11);
  });

  it('gives the difference between trailhead and top, how to use it, and the standard atmosphere as a guide', () => {
    const why = find('Rain jacket')?.why;
    // 6.5 K/km over 1,280 m is 8.3 K; 15 − 12.87 is 2.1 °C (US Standard Atmosphere 1976).
    expect(why).toContain('2 °C in the standard atmosphere, a mean of the year and no forecast');
    expect(why).toContain('about 8 °C colder than the trailhead');
    expect(why).toContain('Take that off the forecast for the trailhead');
    expect(why).toContain('2 h 10 min above treeline');
  });

  it('carries a stated temperature up, and plans on the colder of it and the guide', () => {
    const cold = kit({ ...question, trailheadC: 0 }, DESIGN, 'metric').summit;
    expect(cold?.expectedC).toBeCloseTo(-8.32, 9);
    expect(cold?.planC).toBeCloseTo(-8.32, 9);
    expect(kit({ ...question, trailheadC: 30 }, DESIGN, 'metric').summit?.planC).toBeCloseTo(2.13, 9);
    expect(find('Rain jacket', { trailheadC: 0 })?.why).toContain(
      'With the stated trailhead temperature: −8 °C',
    );
  });

  it('takes the harder case where height, treeline or class is not known', () => {
    expect(kit({ ...question, highM: null }, DESIGN, 'metric').summit).toBeNull();
    expect(find('Second warm layer', { highM: null })).toBeDefined();
    expect(find('Rain jacket', { highM: null })?.why).toContain('coldest day of the season');
    expect(find('Rain jacket', { aboveTreelineMin: null })?.why).toContain('counts as long');
    expect(find('Helmet', { rockClass: null })?.count).toBe(11);
    expect(find('Rain jacket', { trailheadM: null })?.why).not.toContain('colder than the trailhead');
  });

  it.each([
    ['1', false],
    ['2+', false],
    ['3-', true],
    ['2s3', true],
    ['5.4', true],
  ])('for class %s asks for helmets: %s', (rockClass, wanted) => {
    expect(find('Helmet', { rockClass }) !== undefined).toBe(wanted);
  });

  it('asks for the avalanche report where snow may lie and steep ground is there or not known', () => {
    const winter = { month: 1 };
    expect(find('Avalanche', winter)?.why).toContain('30 to 50 degrees');
    expect(find('Avalanche', { ...winter, steep30to50: null })?.why).toContain('not known');
    expect(find('Avalanche', { ...winter, steep30to50: false })).toBeUndefined();
    expect(find('Avalanche')).toBeUndefined();
    expect(find('Avalanche', { surface: 'snow' })).toBeDefined();
    // July is winter in the south, and may be where the latitude is not known.
    expect(find('Avalanche', { latDeg: -43 })).toBeDefined();
    expect(find('Avalanche', { latDeg: null })).toBeDefined();
    expect(find('Avalanche', { latDeg: 0 })).toBeUndefined();
  });

  it('gives the keys to two adults and warns where one leader goes alone', () => {
    expect(find('Keys')).toMatchObject({ who: 'adult', count: 2 });
    expect(find('Keys', { party: { participants: 4, leaders: 1 } })?.why).toContain('Only 1 leader goes');
  });

  it('charges the phone for all of the late day, twice as often in the cold', () => {
    expect(find('Phone', { highM: 900, dayMin: { p10: 1, p50: 1, p90: 720 } })?.what).toContain(
      '1 full charge',
    );
    expect(find('Phone', { month: 1, dayMin: { p10: 1, p50: 1, p90: 720 } })?.what).toContain(
      '3 full charges',
    );
  });

  it('speaks one unit system', () => {
    const us = items({ trailheadC: 0 }, 'us')
      .map(({ what, why }) => `${what} ${why}`)
      .join('\n');
    expect(us).not.toMatch(/\d (m|km|kg|°C|km\/h)\b/);
    expect(us).toContain('6,496 ft');
    expect(us).toContain('25 mph');
  });

  it('never asks for less of anything when more people go', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 0, max: 6 }),
        (participants, leaders) => {
          const some = items({ party: { participants, leaders } });
          const more = items({ party: { participants: participants + 1, leaders } });
          expect(some.every(({ count }, i) => count >= 1 && count <= (more[i]?.count ?? 0))).toBe(true);
        },
      ),
    );
  });

  it('refuses a party, a month or a day that is none', () => {
    expect(() => items({ party: { participants: 0, leaders: 0 } })).toThrow(RangeError);
    expect(() => items({ month: 13 })).toThrow(RangeError);
    expect(() => items({ dayMin: { p10: 0, p50: 0, p90: Number.NaN } })).toThrow(RangeError);
  });
});
