import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { milestonesOn } from '../../src/capability/milestones.ts';
import { whoLimits } from '../../src/capability/who-limits.ts';
import { DESIGN } from '../../src/design.ts';
import { limitText } from '../../src/text/shown-words.ts';

const TRIP = '2026-07-11';
const walk = (distanceM: number, gainM: number, members: string[], date = '2026-07-01') =>
  handOuting({ date, distanceM, gainM, members, rockClass: '1' });
const goers = { members: ['m1', 'm2'], going: null, ageBand: '12-14' as const };
const demand = { distanceM: 10_000, gainM: 600, gainHighM: 650 };
const done = (outings: ReturnType<typeof walk>[]) =>
  milestonesOn(outings, goers, TRIP, DESIGN)(demand).map(({ name, done: isDone }) => [name, isDone]);

describe('milestonesOn', () => {
  it('counts a day with the distance, one with the climb and one with both, for everyone who goes', () => {
    const far = walk(11_000, 100, ['m1', 'm2']);
    const high = walk(5000, 700, ['m1', 'm2']);
    expect(done([far, high])).toEqual([
      ['distanceDay', true],
      ['gainDay', true],
      ['bothDay', false],
    ]);
    expect(done([walk(10_000, 650, ['m1', 'm2'])]).every(([, isDone]) => isDone)).toBe(true);
    expect(done([walk(10_000, 650, ['m1'])]).some(([, isDone]) => isDone)).toBe(false);
  });

  it('holds a hand-entered climb against the upper end, a measured one against the value', () => {
    const byHand = walk(11_000, 620, ['m1', 'm2']);
    expect(done([byHand])[1]).toEqual(['gainDay', false]);
    expect(done([{ ...byHand, source: 'track' as const }])[1]).toEqual(['gainDay', true]);
  });

  it('forgets days of long ago and does not count days to come', () => {
    expect(done([walk(12_000, 900, ['m1', 'm2'], '2026-03-01')]).some(([, isDone]) => isDone)).toBe(false);
    expect(done([walk(12_000, 900, ['m1', 'm2'], '2026-07-20')]).some(([, isDone]) => isDone)).toBe(false);
  });
});

describe('whoLimits', () => {
  it('names who has nothing of a kind, worded as help', () => {
    const limits = whoLimits([walk(9000, 500, ['m1'])], goers, TRIP, DESIGN);
    const limit = limits.find(({ quantity }) => quantity === 'distanceM');
    expect(limit).toMatchObject({ labels: ['m2'], hasNone: true });
    expect(limit === undefined ? null : limitText(limit)).toBe('m2 has no long day yet');
  });

  it('names who has shown least where all have shown something', () => {
    const limits = whoLimits([walk(9000, 500, ['m1', 'm2']), walk(12_000, 500, ['m1'])], goers, TRIP, DESIGN);
    expect(limits.map((limit) => limit.quantity)).toEqual(['distanceM', 'effortKj']);
    expect(limits[0]).toMatchObject({ labels: ['m2'], hasNone: false });
    expect(limits.map(limitText)[0]).toContain('with m2 would raise');
  });

  it('names nobody where all are level, or nobody is labelled', () => {
    expect(whoLimits([walk(9000, 500, ['m1', 'm2'])], goers, TRIP, DESIGN)).toEqual([]);
    expect(whoLimits([walk(9000, 500, ['m1'])], { ...goers, members: null }, TRIP, DESIGN)).toEqual([]);
  });
});
