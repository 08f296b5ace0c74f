import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { altitudeCautions, altitudeFlags, headacheRule } from '../../src/document/altitude-cautions.ts';
import { BARE, DAY } from './day-facts.ts';

describe('the flags of altitude', () => {
  const flags = (changes: object) =>
    altitudeFlags({ ...DAY, ...changes }, 'metric', DESIGN).map(({ text }) => text);

  it('are silent on a low day with everything stated', () => {
    expect(flags({})).toEqual([]);
  });

  it('flag a summit over 3,500 m on a day trip, sleeping low', () => {
    expect(flags({ highM: 3501, sleepElevationM: 1200 })[0]).toMatch(/moderate .*3,501 m/);
    expect(flags({ highM: 3500, sleepElevationM: 1200 })).toEqual([]);
  });

  it('follow the WMS columns by the night before (2,500 m low, 2,900 m moderate, 3,600 m high)', () => {
    expect(flags({ sleepElevationM: 2500 })).toEqual([]);
    expect(flags({ sleepElevationM: 2900 })[0]).toMatch(/moderate/);
    expect(flags({ sleepElevationM: 3600 })[0]).toMatch(/high .*Sleep lower/);
    const ill = { sleepElevationM: 2000, altitudeHistory: 'hapeHace' };
    expect(flags({ ...ill, highM: 2501 })[0]).toMatch(/: high/);
    expect(flags({ ...ill, highM: 2500 })).toEqual([]);
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
