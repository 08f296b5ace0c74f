import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthM } from '../../../src/capability/recording/line.ts';
import { splitAtRides } from '../../../src/capability/recording/rides.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { DRIVE, type Leg, recorded, START_MS, WALK } from './recorded.ts';

const split = (legs: readonly Leg[]) => splitAtRides(recorded(legs).segments, DESIGN.recording);
const walkedM = (legs: readonly Leg[]) => split(legs).walks.map((line) => Math.round(lengthM(line)));
const WALK_M = 90 * 60 * 1.1;

describe('splitAtRides', () => {
  it('says how far and how long was ridden at each end', () => {
    const { before, after, between } = split([DRIVE, WALK, { minutes: 20, speedMs: 15 }]);
    expect(between).toEqual([]);
    // 12 min at 20 km/h are 4.0 km, 20 min at 15 m/s are 18 km
    expect(before?.minutes).toBeCloseTo(12, 0);
    expect((before?.lengthM ?? 0) / 4000).toBeCloseTo(1, 1);
    expect(after?.minutes).toBeCloseTo(20, 0);
    expect((after?.lengthM ?? 0) / 18_000).toBeCloseTo(1, 2);
  });

  it('takes waits and short ways beside a drive for part of it', () => {
    const wait = { minutes: 4, speedMs: 0 };
    const toTheCar = { minutes: 3, speedMs: 1.2 };
    const [only, ...more] = walkedM([toTheCar, DRIVE, wait, DRIVE, WALK, DRIVE, wait]);
    expect(more).toEqual([]);
    expect(Math.abs((only ?? 0) / WALK_M - 1)).toBeLessThan(0.02);
  });

  it('knows a slow lift by the height that it gains', () => {
    const chair = { minutes: 10, speedMs: 2.1, riseMs: 0.85 };
    const { walks, between } = split([{ ...WALK, riseMs: 0.15 }, chair, { ...WALK, riseMs: -0.2 }]);
    expect(walks).toHaveLength(2);
    expect(between).toHaveLength(1);
    expect(between[0]?.minutes).toBeGreaterThan(8.5);
    expect(between[0]?.minutes).toBeLessThan(10.5);
  });

  it('does not take a run down a steep path, or a stair, for a ride', () => {
    const stair = { minutes: 3, speedMs: 0.8, riseMs: 0.35 };
    const run = { minutes: 4, speedMs: 2.4, riseMs: -0.7 };
    expect(split([{ ...WALK, riseMs: 0 }, stair, run]).walks).toHaveLength(1);
    expect(split([{ ...WALK, riseMs: 0 }, stair, run]).between).toEqual([]);
  });

  it.each([
    // metres of the hole, its seconds, whether it was walked
    [400, 130, false],
    [250, 95, false],
    [600, 20, false],
    [150, 55, true],
    [400, 300, true],
  ])('counts a hole of %i m in %i s as walked: %s', (metres, seconds, isWalked) => {
    const first = recorded([WALK]).segments[0] ?? [];
    const end = first.at(-1) ?? { ...SOMEWHERE, timeMs: START_MS };
    const startMs = (end.timeMs ?? 0) + seconds * 1000;
    const second = recorded([WALK], destination(end, 90, metres), startMs).segments[0] ?? [];
    const { walks, between } = splitAtRides([[...first, ...second]], DESIGN.recording);
    const heldM = walks.reduce((sum, line) => sum + lengthM(line), 0);
    expect(Math.abs(heldM - 2 * WALK_M - (isWalked ? metres : 0))).toBeLessThan(2);
    expect(between.map(({ lengthM }) => Math.round(lengthM))).toEqual(isWalked ? [] : [metres]);
  });

  it('leaves what is all walked untouched, however it goes', () => {
    const leg = fc.record({
      minutes: fc.integer({ min: 1, max: 40 }),
      speedMs: fc.double({ min: 0, max: 2.4, noNaN: true }),
      bearingDeg: fc.integer({ min: 0, max: 359 }),
    });
    fc.assert(
      fc.property(fc.array(leg, { minLength: 1, maxLength: 8 }), (legs) => {
        const { segments } = recorded(legs);
        expect(splitAtRides(segments, DESIGN.recording).walks).toEqual([segments]);
      }),
      { numRuns: 50 },
    );
  });
});
