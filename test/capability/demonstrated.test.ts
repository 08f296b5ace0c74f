import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demonstrated, demonstratedWith, shownGain, wasThere } from '../../src/capability/demonstrated.ts';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { DESIGN } from '../../src/design.ts';

const TRIP = '2026-07-11';
const everyone = { members: null, going: null, ageBand: '12-14' as const };
const walk = (date: string, distanceM: number, gainM: number, more: Partial<Outing> = {}): Outing => ({
  ...handOuting({ date, distanceM, gainM }),
  ...more,
});

const someWalk = fc.record({
  day: fc.integer({ min: 1, max: 30 }),
  distanceM: fc.integer({ min: 1000, max: 20000 }),
  gainM: fc.integer({ min: 10, max: 1500 }),
  who: fc.subarray(['a', 'b', 'c'], { minLength: 1 }),
});
type SomeWalk = { day: number; distanceM: number; gainM: number; who: string[] };
const outingOf = ({ day, distanceM, gainM, who }: SomeWalk): Outing =>
  walk(`2026-06-${String(day).padStart(2, '0')}`, distanceM, gainM, { members: who });

describe('demonstrated', () => {
  it('is the best outing less what time has taken away', () => {
    const shown = demonstrated(
      [walk('2026-07-11', 9000, 600), walk('2026-06-27', 10000, 500)],
      everyone,
      TRIP,
      DESIGN,
    );
    // 14 days: 1 − 0.159·(1 − e^(−14/22)) = 0.9251 (fit to Coyle 1984, sources.md §8)
    expect(shown.distanceM?.value).toBeCloseTo(9251.3, 0);
    expect(shown.gainM?.value).toBe(600);
    expect(shown.gainM?.daysBefore).toBe(0);
  });

  it('knows one day of long ago, with none since, for what it is', () => {
    const rests = (...dates: string[]) =>
      demonstrated(
        dates.map((date) => walk(date, 9000, 600)),
        { ...everyone, ageBand: 'adult' },
        TRIP,
        DESIGN,
      ).restsOnOneOldDay;
    expect(rests('2026-05-30')).toBe(false);
    expect(rests('2026-05-29')).toBe(true);
    expect(rests('2026-05-29', '2026-05-20')).toBe(false);
    expect(rests('2026-05-29', '2026-07-01')).toBe(false);
    expect(rests()).toBe(false);
  });

  it('counts a class after one day within a year, or two within two', () => {
    const classOf = (...days: readonly (readonly [string, string])[]) =>
      demonstrated(
        days.map(([date, rockClass]) => walk(date, 9000, 600, { rockClass })),
        everyone,
        TRIP,
        DESIGN,
      ).rockClass?.text ?? null;
    expect(classOf(['2025-07-11', '2+'])).toBe('2+');
    expect(classOf(['2025-07-10', '2+'])).toBeNull();
    expect(classOf(['2025-07-10', '2+'], ['2024-08-01', '2+'])).toBe('2+');
    expect(classOf(['2025-07-10', '2+'], ['2024-08-01', '3'])).toBe('2+');
    expect(classOf(['2025-07-10', '2+'], ['2026-06-01', '1'])).toBe('1');
  });

  it('is the least over those who go', () => {
    const outings = [
      walk(TRIP, 12000, 900, { members: ['a'] }),
      walk(TRIP, 8000, 400, { members: ['a', 'b'] }),
    ];
    const goers = { members: ['a', 'b'], going: ['a', 'b'], ageBand: 'adult' as const };
    expect(demonstrated(outings, goers, TRIP, DESIGN).distanceM?.value).toBe(8000);
    expect(demonstrated(outings, { ...goers, going: ['a'] }, TRIP, DESIGN).distanceM?.value).toBe(12000);
  });

  it('is nothing as soon as one who goes has no outing, and tells leaders who', () => {
    const goers = { members: ['a', 'b'], going: null, ageBand: 'adult' as const };
    const shown = demonstrated([walk(TRIP, 8000, 400, { members: ['a'] })], goers, TRIP, DESIGN);
    expect(shown.distanceM).toBeNull();
    expect(shown.effortKj).toBeNull();
    expect(shown.membersWithout).toEqual(['b']);
  });

  it('says that an outing without labels was taken to count for everyone', () => {
    expect(demonstrated([walk(TRIP, 8000, 400)], everyone, TRIP, DESIGN).assumedForAll).toBe(true);
  });

  it('counts a day whose people have all left the cohort for nobody, also where nobody is labelled any more', () => {
    const theirs = walk(TRIP, 18_700, 900, { members: [] });
    expect(demonstrated([theirs], everyone, TRIP, DESIGN).distanceM).toBeNull();
    expect(demonstrated([theirs], everyone, TRIP, DESIGN).gainM).toBeNull();
    expect(wasThere(theirs, null)).toBe(false);
    expect(wasThere(theirs, ['a'])).toBe(false);
    expect(wasThere(walk(TRIP, 9000, 400), null)).toBe(true);
  });

  it('takes an empty list of those who go as all members, not as nobody', () => {
    const outings = [walk(TRIP, 8000, 400, { members: ['a'] })];
    const goers = { members: ['a', 'b'], going: [], ageBand: 'adult' as const };
    expect(demonstrated(outings, goers, TRIP, DESIGN).distanceM).toBeNull();
  });

  it('leaves out outings after the trip', () => {
    expect(demonstrated([walk('2026-07-12', 8000, 400)], everyone, TRIP, DESIGN).distanceM).toBeNull();
  });

  it('keeps an outing that climbed nothing for its distance', () => {
    const shown = demonstrated([walk(TRIP, 8000, 0)], everyone, TRIP, DESIGN);
    expect(shown.distanceM?.value).toBe(8000);
    expect(shown.gainM).toBeNull();
  });

  it('remembers the hardest class that everyone has walked', () => {
    const goers = { members: ['a', 'b'], going: null, ageBand: 'adult' as const };
    const outings = [
      walk(TRIP, 8000, 400, { members: ['a'], rockClass: '3' }),
      walk(TRIP, 8000, 400, { members: ['a', 'b'], rockClass: '2' }),
    ];
    expect(demonstrated(outings, goers, TRIP, DESIGN).rockClass?.text).toBe('2');
  });

  it('never falls with another outing, and never rises with another member', () => {
    fc.assert(
      fc.property(fc.array(someWalk, { minLength: 1, maxLength: 6 }), someWalk, (walks, extra) => {
        const goers = (going: string[]) => ({ members: ['a', 'b', 'c'], going, ageBand: '15-17' as const });
        const value = (all: SomeWalk[], going: string[]) =>
          demonstrated(all.map(outingOf), goers(going), TRIP, DESIGN).distanceM?.value ?? 0;
        expect(value([...walks, extra], ['a', 'b'])).toBeGreaterThanOrEqual(value(walks, ['a', 'b']));
        expect(value(walks, ['a', 'b', 'c'])).toBeLessThanOrEqual(value(walks, ['a', 'b']));
      }),
    );
  });
});

describe('demonstratedWith', () => {
  it('is what the outings and one more day behind them have shown, whoever was there', () => {
    const someClass = fc.constantFrom(null, '1', '2+', '5.10a', '3s4');
    const more = fc.record({ rockClass: someClass, highM: fc.constantFrom(null, 1200, 2400) });
    const anyWalk = fc.tuple(someWalk, more, fc.constantFrom('2026-01-05', '2026-06-20', TRIP, '2026-07-20'));
    const anyOuting = anyWalk.map(
      ([one, stated, date]): Outing => ({ ...outingOf(one), ...stated, date, gainHighM: one.gainM * 1.2 }),
    );
    const someGoers = fc.constantFrom(everyone, {
      members: ['a', 'b', 'c', 'd'],
      going: ['b', 'c'],
      ageBand: 'adult' as const,
    });
    fc.assert(
      fc.property(fc.array(anyOuting, { maxLength: 6 }), anyOuting, someGoers, (outings, day, goers) => {
        const withDay = demonstratedWith(outings, goers, TRIP, DESIGN);
        expect(withDay(day)).toEqual(demonstrated([...outings, day], goers, TRIP, DESIGN));
        const forAll = { ...day, members: null };
        expect(withDay(forAll)).toEqual(demonstrated([...outings, forAll], goers, TRIP, DESIGN));
      }),
    );
  });
});

describe('shownGain', () => {
  const measured = walk(TRIP, 9000, 800, { gainHighM: 960 });
  const { climbs } = demonstrated([measured], everyone, TRIP, DESIGN);

  it('takes a measured climb at its value against a route without doubt', () => {
    expect(shownGain(climbs, 0)?.value).toBe(800);
  });

  it('does not hold the doubt that both share against the group', () => {
    expect(shownGain(climbs, 0.2)?.value).toBeCloseTo(960, 9);
    expect(shownGain(climbs, 0.1)?.value).toBeCloseTo(880, 9);
  });

  it('gives no credit for a route’s doubt that the outing does not share', () => {
    expect(shownGain(climbs, 0.5)?.value).toBeCloseTo(960, 9);
    const byHand = demonstrated([walk(TRIP, 9000, 800)], everyone, TRIP, DESIGN);
    expect(shownGain(byHand.climbs, 0.5)?.value).toBe(800);
  });
});
