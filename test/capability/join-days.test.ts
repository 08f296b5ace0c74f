import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { joinDays } from '../../src/capability/join-days.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { DESIGN } from '../../src/design.ts';

const HOUR = 3_600_000;
const track = (distanceM: number, fromH: number, toH: number, more: Partial<Outing> = {}): Outing => ({
  ...handOuting({
    date: '2026-06-20',
    distanceM,
    gainM: distanceM / 20,
    movingMin: 60 * (toH - fromH),
    rockClass: '1',
  }),
  source: 'track',
  clockFromMs: Date.UTC(2026, 5, 20) + fromH * HOUR,
  clockToMs: Date.UTC(2026, 5, 20) + toH * HOUR,
  ...more,
});
const codes = (outing: Outing | undefined) => outing?.notes.map(({ code }) => code) ?? [];

describe('joinDays', () => {
  it('counts a walk that two devices recorded once, by the longer recording', () => {
    const [only, ...more] = joinDays([track(9000, 8, 12), track(8700, 8.1, 12)], DESIGN);
    expect(more).toEqual([]);
    expect(only?.distanceM).toBe(9000);
    expect(codes(only)).toContain('second-recording');
  });

  it('adds up two recordings of one day, one after the other', () => {
    const [only, ...more] = joinDays([track(4000, 13, 15), track(5000, 8, 12, { rockClass: '2' })], DESIGN);
    expect(more).toEqual([]);
    expect(only).toMatchObject({ distanceM: 9000, gainM: 450, rockClass: '2', movingMin: 360 });
    expect(only?.parts.reduce((sum, part) => sum + part.movingMin, 0)).toBe(360);
    expect(codes(only)).toContain('day-in-parts');
  });

  it('leaves different days, different people and two entries by hand alone', () => {
    const apart = [
      track(9000, 8, 12),
      { ...track(9000, 8, 12), date: '2026-06-21' },
      track(9000, 8, 12, { members: ['m1'] }),
    ];
    expect(joinDays(apart, DESIGN)).toHaveLength(3);
    const byHand = handOuting({ date: '2026-06-20', distanceM: 5000, gainM: 200 });
    expect(joinDays([byHand, byHand], DESIGN)).toHaveLength(2);
  });

  it('takes an entry by hand for the recorded walk where both say the same', () => {
    const byHand = handOuting({ date: '2026-06-20', distanceM: 9100, gainM: 455 });
    expect(joinDays([byHand, track(9000, 8, 12)], DESIGN)).toHaveLength(1);
    expect(joinDays([{ ...byHand, gainM: 700 }, track(9000, 8, 12)], DESIGN)).toHaveLength(2);
  });

  it('does not depend on the order of the outings', () => {
    const outings = [track(4000, 13, 15), track(9000, 8, 12), track(8700, 8.1, 12)];
    expect(joinDays([...outings].reverse(), DESIGN)).toEqual(joinDays(outings, DESIGN));
  });

  it('leaves two walks at one time apart unless the same named people are said to be on both', () => {
    const short = { distanceM: 4000, fromH: 8, toH: 11 };
    const pair = (members: string[] | null) => [
      track(9000, 8, 12, { members }),
      track(short.distanceM, short.fromH, short.toH, { members }),
    ];
    expect(joinDays(pair(null), DESIGN)).toHaveLength(2);
    expect(joinDays(pair(['m1', 'm2']), DESIGN)).toHaveLength(1);
  });

  it('does not add a recording of another day that was entered for this one', () => {
    expect(joinDays([track(9000, 8, 12), track(8000, 8 - 72, 12 - 72)], DESIGN)).toHaveLength(2);
  });

  it('keeps a time entered by hand where the recording has none', () => {
    const byHand = handOuting({ date: '2026-06-20', distanceM: 9000, gainM: 450, movingMin: 200 });
    const untimed = track(9000, 8, 12, { parts: [], clockFromMs: null, clockToMs: null });
    expect(joinDays([byHand, untimed], DESIGN)).toHaveLength(2);
  });

  it('takes the class from the second recording where the first has none', () => {
    const [only] = joinDays([track(9000, 8, 12, { rockClass: null }), track(8900, 8, 12)], DESIGN);
    expect(only?.rockClass).toBe('1');
  });

  it('never makes of a day more than its recordings together, and never less than the longest', () => {
    const some = fc
      .tuple(
        fc.integer({ min: 1000, max: 15_000 }),
        fc.integer({ min: 5, max: 14 }),
        fc.integer({ min: 1, max: 8 }),
      )
      .map(([distanceM, fromH, hours]) => track(distanceM, fromH, fromH + hours));
    fc.assert(
      fc.property(fc.array(some, { minLength: 1, maxLength: 5 }), (outings) => {
        const distances = (list: readonly Outing[]) => list.map(({ distanceM }) => distanceM);
        const sum = (list: readonly number[]) => list.reduce((total, value) => total + value, 0);
        const after = distances(joinDays(outings, DESIGN));
        expect(sum(after)).toBeLessThanOrEqual(sum(distances(outings)));
        expect(Math.max(...after)).toBeGreaterThanOrEqual(Math.max(...distances(outings)));
      }),
    );
  });
});
