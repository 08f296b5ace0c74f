import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { type KitLine, kitLines } from '../../src/document/kit-text.ts';
import { type KitQuestion, kit } from '../../src/plan/kit.ts';
import { KIT_QUESTION as question } from '../support/kit-question.ts';

const lines = (changes: Partial<KitQuestion> = {}, units: 'metric' | 'us' = 'metric'): readonly KitLine[] =>
  kitLines(kit({ ...question, ...changes }, DESIGN), units, DESIGN);
const find = (what: string, changes: Partial<KitQuestion> = {}): KitLine | undefined =>
  lines(changes).find((line) => line.what.startsWith(what));

describe('the kit in words', () => {
  it('gives every item a reason with a figure of the day', () => {
    for (const units of ['metric', 'us'] as const) {
      expect(lines({}, units).filter(({ why }) => !/\d/.test(why))).toEqual([]);
    }
  });

  it('says the hours of dark of the late day, and that none are planned', () => {
    expect(find('Headlamp')?.why).toContain('1 h 25 min on a late one');
    const day = find('Headlamp', { headlampMin: { p50: 0, p90: 0 } });
    expect(day?.why).toContain('0 min in the dark are planned');
  });

  it('says which medicine is the program’s policy, and gives no advice on any', () => {
    const all = lines()
      .map(({ what, why }) => `${what}: ${why}`)
      .join('\n');
    expect(all).toContain('as the program’s policy says');
    expect(all).not.toMatch(/\b(mg|dose|tablet|acetazolamide|ibuprofen|aspirin|paracetamol|antihistamine)/i);
  });

  it('gives the difference between trailhead and top, how to use it, and a cold day of the season as a guide', () => {
    const why = find('Rain jacket')?.why;
    // 6.5 K/km over 1,280 m is 8.3 K.
    expect(why).toContain('2 °C on a cold day at this time of year, by latitude and height, no forecast');
    expect(why).toContain('about 8 °C colder than the trailhead');
    expect(why).toContain('Take that off the forecast for the trailhead');
    expect(why).toContain('2 h 10 min above treeline');
  });

  it('says what is not known, and that it counts as the harder case', () => {
    expect(find('Rain jacket', { highM: null })?.why).toContain('coldest day of the season');
    expect(find('Rain jacket', { aboveTreelineMin: null })?.why).toContain('counts as long');
    expect(find('Rain jacket', { trailheadM: null })?.why).not.toContain('colder than the trailhead');
    expect(find('Avalanche', { date: '2026-01-15' })?.why).toContain('30 to 50 degrees');
    expect(find('Avalanche', { date: '2026-01-15', steep30to50: null })?.why).toContain('not known');
  });

  it('warns where one leader goes alone', () => {
    expect(find('Keys', { party: { participants: 4, leaders: 1, ageBand: '12-14' } })?.why).toContain(
      'Only 1 leader goes',
    );
  });

  it('says how many charges a phone needs', () => {
    const dayMin = { p10: 1, p50: 1, p90: 720 };
    expect(find('Phone', { highM: 900, dayMin })?.what).toContain('1 full charge');
    expect(find('Phone', { date: '2026-01-15', dayMin })?.what).toContain('3 full charges');
  });

  it('speaks one unit system', () => {
    const us = lines({}, 'us')
      .map(({ what, why }) => `${what} ${why}`)
      .join('\n');
    expect(us).not.toMatch(/\d (m|km|kg|°C|km\/h)\b/);
    expect(us).toContain('6,496 ft');
    expect(us).toContain('25 mph');
  });
});
