import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { handRecordOf } from '../../src/capability/hand-record.ts';
import { implausible } from '../../src/capability/plausibility.ts';
import { EngineError } from '../../src/errors.ts';

const day = { date: '2026-06-20' };
const refusal = (input: object): string => {
  try {
    handRecordOf({ ...day, ...input });
  } catch (error) {
    if (error instanceof EngineError) return error.message;
    throw error;
  }
  throw new RangeError('nothing was refused');
};

describe('handRecordOf', () => {
  it('takes kilometres, miles and feet for the same day', () => {
    const metric = handRecordOf({ ...day, distanceKm: 10, gainM: 609.6, maxElevationM: 1524 });
    const us = handRecordOf({ ...day, distanceMi: 10 / 1.609344, gainFt: 2000, maxElevationFt: 5000 });
    expect(us.distanceM).toBeCloseTo(metric.distanceM, 9);
    expect(us.gainM).toBeCloseTo(metric.gainM, 9);
    expect(us.maxElevationM).toBeCloseTo(1524, 9);
  });

  it('refuses one figure given twice, and a day without distance or climb', () => {
    expect(refusal({ distanceM: 9000, distanceMi: 6, gainM: 400 })).toContain('distanceM and distanceMi');
    expect(refusal({ distanceM: 9000 })).toContain('climb');
    expect(refusal({ repeats: { heightM: 40, times: 10 }, gainM: 400 })).toContain('repeats');
  });

  it('takes a hill or stair as its height and how often it was climbed', () => {
    const stair = handOuting(handRecordOf({ ...day, repeats: { heightM: 40, times: 10 }, movingMin: 90 }));
    expect(stair.gainM).toBe(400);
    expect(stair.quantities).toMatchObject({ upM: 400, downM: 400 });
    // A stair says little of a pace on paths.
    expect(stair.parts).toEqual([]);
    const hill = handRecordOf({ ...day, repeats: { heightFt: 200, times: 5, lengthM: 500 } });
    expect(hill.distanceM).toBe(5000);
    expect(hill.gainM).toBeCloseTo(304.8, 9);
  });
});

describe('implausible', () => {
  const doubts = (record: object) =>
    implausible({ ...day, distanceM: 9000, gainM: 600, ...record }).map(({ values }) => values.found);

  it('finds nothing in an ordinary day', () => {
    expect(doubts({ movingMin: 240, maxElevationM: 1500 })).toEqual([]);
    expect(doubts({ gainM: 0, movingMin: 120, maxElevationM: 0 })).toEqual([]);
  });

  it.each([
    [{ distanceM: 9 }, 'short'],
    [{ distanceM: 90_000 }, 'long'],
    [{ gainM: 4000 }, 'bigClimb'],
    [{ distanceM: 5000, gainM: 1700 }, 'steep'],
    [{ gainM: 1700, distanceM: 20_000, maxElevationM: 900 }, 'belowGround'],
    [{ movingMin: 4 }, 'fast'],
    [{ movingMin: 0 }, 'fast'],
    [{ movingMin: 3000 }, 'slow'],
  ])('names what looks wrong in %j', (record, found) => {
    expect(doubts(record)).toContain(found);
  });

  it('does not doubt the slope of a stair', () => {
    expect(doubts({ distanceM: 200, gainM: 400, repeats: true })).toEqual([]);
  });
});
