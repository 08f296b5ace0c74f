import { describe, expect, it } from 'vitest';
import { lightningBackground } from '../../src/day/lightning-background.ts';

const LONGS_PEAK = { lonDeg: -105.615, latDeg: 40.255 };
const shareAt = (month: number, wanted: number) =>
  lightningBackground(LONGS_PEAK, month)?.hours.find(({ hour }) => hour === wanted)?.shareOfHighest ??
  Number.NaN;

describe('the hourly background of lightning', () => {
  it('gives July in Colorado as shares of its highest hour', () => {
    const july = lightningBackground(LONGS_PEAK, 7);
    expect(july?.region).toBe('Colorado');
    expect(july?.highestHour).toBe(14);
    expect(july?.source).toContain('National Weather Service');
    // sources.md §5, computed from the NWS Pueblo table: 0.021, 0.099, 0.330, 0.689; noon to 10:00 is 16.0.
    for (const [hour, share] of [
      [10, 0.021],
      [11, 0.099],
      [12, 0.33],
      [13, 0.689],
      [14, 1],
    ] as const) {
      expect(shareAt(7, hour)).toBeCloseTo(share, 3);
    }
    expect(shareAt(7, 12) / shareAt(7, 10)).toBeCloseTo(16, 1);
  });

  it('says what the source does not: how hours are named, that summits are earlier, that later hours are missing', () => {
    const text = lightningBackground(LONGS_PEAK, 6)?.caveats.join(' ') ?? '';
    expect(text).toMatch(/beginning or its end/);
    expect(text).toMatch(/late for summits/);
    expect(text).toMatch(/after 14:00/);
  });

  it('knows May to September alone', () => {
    const known = Array.from({ length: 12 }, (_, index) => index + 1).filter(
      (month) => lightningBackground(LONGS_PEAK, month) !== null,
    );
    expect(known).toEqual([5, 6, 7, 8, 9]);
  });

  it('is null outside the region and finds a place past a full turn', () => {
    expect(lightningBackground({ lonDeg: -30.2, latDeg: 46.1 }, 7)).toBeNull();
    expect(lightningBackground({ lonDeg: -105.615, latDeg: 36.9 }, 7)).toBeNull();
    expect(lightningBackground({ lonDeg: 254.385, latDeg: 40.255 }, 7)?.region).toBe('Colorado');
  });

  it('refuses a month that is none', () => {
    expect(() => lightningBackground(LONGS_PEAK, 0)).toThrow(RangeError);
    expect(() => lightningBackground(LONGS_PEAK, 7.5)).toThrow(RangeError);
  });
});
