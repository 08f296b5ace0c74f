import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import {
  altitudeCautions,
  altitudeFlags,
  headacheRule,
  LAKE_LOUISE_ITEMS,
  lakeLouise,
} from '../../src/document/altitude-cautions.ts';
import { BARE, DAY } from './day-facts.ts';

const answer = fc.integer({ min: 0, max: 3 });
const answers = fc.record({ headache: answer, stomach: answer, tiredness: answer, dizziness: answer });

describe('the Lake Louise score', () => {
  // Checks of sources.md §4, from the rules of Lake Louise 2018 (Roach et al.).
  it.each([
    [{ headache: 1, stomach: 1, tiredness: 1, dizziness: 0 }, 3, 'mild'],
    [{ headache: 0, stomach: 3, tiredness: 3, dizziness: 0 }, 6, null],
    [{ headache: 3, stomach: 3, tiredness: 2, dizziness: 2 }, 10, 'severe'],
    [{ headache: 2, stomach: 1, tiredness: 2, dizziness: 1 }, 6, 'moderate'],
    [{ headache: 1, stomach: 1, tiredness: 0, dizziness: 0 }, 2, null],
    [{ headache: 2, stomach: 2, tiredness: 1, dizziness: 0 }, 5, 'mild'],
    [{ headache: 3, stomach: 3, tiredness: 3, dizziness: 0 }, 9, 'moderate'],
    [{ headache: 3, stomach: 3, tiredness: 3, dizziness: 3 }, 12, 'severe'],
  ])('of %j is %i: %s', (given, total, severity) => {
    expect(lakeLouise(given, true)).toEqual({ total, severity, isMountainSickness: severity !== null });
  });

  it('is never mountain sickness without a headache or without a recent gain of height', () => {
    fc.assert(
      fc.property(answers, (given) => {
        expect(lakeLouise({ ...given, headache: 0 }, true).isMountainSickness).toBe(false);
        expect(lakeLouise(given, false).severity).toBeNull();
      }),
    );
  });

  it('asks four questions with four answers each, none of them about sleep', () => {
    expect(LAKE_LOUISE_ITEMS).toHaveLength(4);
    for (const { question, answers: given } of LAKE_LOUISE_ITEMS) {
      expect(given).toHaveLength(4);
      expect(question).not.toMatch(/sleep/i);
    }
  });

  it('refuses an answer that is none', () => {
    const given = { headache: 1, stomach: 1, tiredness: 1, dizziness: 0 };
    expect(() => lakeLouise({ ...given, stomach: 4 }, true)).toThrow(RangeError);
    expect(() => lakeLouise({ ...given, stomach: Number.NaN }, true)).toThrow(RangeError);
  });
});

describe('the flags of altitude', () => {
  const flags = (changes: object) =>
    altitudeFlags({ ...DAY, ...changes }, 'metric', DESIGN).map(({ text }) => text);

  it('are silent on a low day with everything stated', () => {
    expect(flags({})).toEqual([]);
  });

  it('flag a summit over 3,500 m on a day trip, sleeping low', () => {
    expect(flags({ highM: 3501 })[0]).toMatch(/moderate .*3,501 m/);
    expect(flags({ highM: 3500 })).toEqual([]);
  });

  it('follow the WMS columns by the night before (2,500 m low, 2,900 m moderate, 3,600 m high)', () => {
    expect(flags({ sleepElevationM: 2500 })).toEqual([]);
    expect(flags({ sleepElevationM: 2900 })[0]).toMatch(/moderate/);
    expect(flags({ sleepElevationM: 3600 })[0]).toMatch(/high .*Sleep lower/);
    expect(flags({ sleepElevationM: 2000, altitudeHistory: 'hapeHace' })[0]).toMatch(/: high/);
  });

  it('take the start’s height where the sleeping height is not stated, and ask', () => {
    const [start] = DAY.checkpoints;
    const high = { sleepElevationM: null, checkpoints: [{ ...start, elevationM: 2900 }] };
    expect(flags(high)[0]).toMatch(/moderate .*2,900 m/);
    expect(flags(high)[1]).toMatch(/Not known.*sleeps/);
  });

  it('ask for all that is not known', () => {
    expect(altitudeFlags(BARE, 'metric', DESIGN).map(({ text }) => text)).toEqual([
      'Not known, find out: at what height everyone sleeps the night before; whether anyone has had altitude illness; how high the route goes.',
    ]);
  });
});

describe('the rule for a headache', () => {
  it('stands above 2,500 m and where the height is not known', () => {
    expect(headacheRule({ ...DAY, highM: 2500 }, 'metric', DESIGN)).toBeNull();
    expect(headacheRule({ ...DAY, highM: 2501 }, 'metric', DESIGN)?.text).toContain('Above 2,500 m');
    expect(headacheRule({ ...DAY, highM: 2501 }, 'us', DESIGN)?.text).toContain('8,202 ft');
    expect(headacheRule({ ...DAY, highM: null }, 'metric', DESIGN)).not.toBeNull();
  });
});

describe('the cautions of altitude', () => {
  it('say descend at once for the danger signs, each with its source', () => {
    const lines = altitudeCautions(DAY.party);
    expect(lines.map(({ text }) => text).join(' ')).toMatch(/Danger signs: .*Go down at once, never alone/);
    expect(lines.every(({ source }) => source !== null)).toBe(true);
  });

  it('say that children report less, for minors and where the age is not stated', () => {
    const text = (ageBand: 'adult' | '15-17' | null) =>
      altitudeCautions({ ...DAY.party, ageBand })
        .map((line) => line.text)
        .join(' ');
    expect(text('15-17')).toMatch(/report less/);
    expect(text(null)).toMatch(/report less/);
    expect(text('adult')).not.toMatch(/Children/);
  });
});
