import { describe, expect, it } from 'vitest';
import { lightningBackground } from '../../src/day/lightning-background.ts';
import { lightningLines } from '../../src/document/leader-day.ts';
import { section } from '../../src/document/people-page.ts';

const linesOf = (background: Parameters<typeof lightningLines>[0]) =>
  section('Storms', { lines: lightningLines(background) }).lines;

describe('lightningLines', () => {
  it('says nothing outside the published regions', () => {
    expect(linesOf(lightningBackground({ lonDeg: -30.2, latDeg: 46.1 }, 7))).toEqual([]);
    expect(linesOf(null)).toEqual([]);
  });

  it('gives the hours from 09:00 as shares of the highest, as background, with source and caveats', () => {
    const background = lightningBackground({ lonDeg: -105.615, latDeg: 40.255 }, 7);
    const [line, ...caveats] = linesOf(background);
    expect(line?.text).toMatch(/^Background, scored nowhere: lightning by the hour in Colorado/);
    // sources.md §5, computed from the NWS Pueblo table: 0.021, 0.099, 0.330, 0.689 of the hour 14.
    expect(line?.text).toContain('09:00 1 %, 10:00 2 %, 11:00 10 %, 12:00 33 %, 13:00 69 %, 14:00 100 %');
    expect(line?.text).not.toContain('08:00');
    expect(line?.source).toContain('National Weather Service');
    expect(caveats.map(({ text }) => text)).toEqual(background?.caveats);
  });

  it('never says that an hour has none of the lightning', () => {
    const background = lightningBackground({ lonDeg: -105.615, latDeg: 40.255 }, 7);
    if (background === null) throw new RangeError('no table');
    const quiet = { ...background, hours: [{ hour: 9, shareOfHighest: 0.004 }] };
    expect(linesOf(quiet)[0]?.text).toContain('09:00 under 1 %');
    const none = { ...background, hours: [{ hour: 9, shareOfHighest: 0 }] };
    expect(linesOf(none)[0]?.text).toContain('09:00 under 1 %');
  });
});
