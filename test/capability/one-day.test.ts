import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { oneDay } from '../../src/capability/one-day.ts';

const day = { date: '2026-06-20', members: ['m1'] };
const morning = handOuting({
  ...day,
  distanceM: 5000,
  gainM: 300,
  movingMin: 120,
  maxElevationM: 1300,
  rockClass: '2',
});
const evening = handOuting({
  ...day,
  distanceM: 3000,
  gainM: 100,
  movingMin: 60,
  maxElevationM: 1500,
  rockClass: '1',
});

describe('oneDay', () => {
  it('sums what was walked and keeps the hardest class and the highest point', () => {
    expect(oneDay([morning, evening])).toMatchObject({
      distanceM: 8000,
      gainM: 400,
      gainHighM: 400,
      highM: 1500,
      rockClass: '2',
      movingMin: 180,
      members: ['m1'],
    });
  });

  it('makes one trial of the parts of one kind, so that a day in pieces does not count for several', () => {
    const { parts, quantities } = oneDay([morning, evening]);
    expect(parts).toHaveLength(1);
    expect(parts[0]?.movingMin).toBe(180);
    expect(parts[0]?.quantities).toEqual(quantities);
  });

  it('weighs the height of the climbs by what was climbed', () => {
    // 300 m around 1,150 m and 100 m around 1,450 m
    expect(oneDay([morning, evening]).climbElevationM).toBeCloseTo((300 * 1150 + 100 * 1450) / 400, 6);
  });

  it('does not know the climb of a day where that of one walk is not known', () => {
    const unknown = { ...evening, gainM: null, gainHighM: null, quantities: null, parts: [] };
    expect(oneDay([morning, unknown])).toMatchObject({ gainM: null, quantities: null, distanceM: 8000 });
  });

  it('is the walk itself where there is only one, and refuses a day without any', () => {
    expect(oneDay([morning])).toBe(morning);
    expect(() => oneDay([])).toThrow(RangeError);
  });
});
