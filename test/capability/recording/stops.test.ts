import { describe, expect, it } from 'vitest';
import { intervalsOf } from '../../../src/capability/recording/intervals.ts';
import { firstMs, lastMs, lengthM } from '../../../src/capability/recording/line.ts';
import { stopsOf, withoutEndStops, withoutLongStops } from '../../../src/capability/recording/stops.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import type { TrackPoint } from '../../../src/ingest/track.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { type Leg, recorded, START_MS, WALK } from './recorded.ts';

const limits = DESIGN.recording;
const line = (legs: readonly Leg[]) => recorded(legs).segments;
const still = (minutes: number): Leg => ({ minutes, speedMs: 0 });
const minutesOf = (walked: ReturnType<typeof line>) =>
  ((lastMs(walked) ?? 0) - (firstMs(walked) ?? 0)) / 60_000;
const BOTH = { start: true, end: true };

describe('a stand', () => {
  it('is found where the device stayed near one place, with its length', () => {
    const [first, second, ...more] = stopsOf(line([WALK, still(45), WALK, still(90)]), limits);
    expect(more).toEqual([]);
    expect(first).toMatchObject({ atStart: false, atEnd: false });
    expect(second).toMatchObject({ atStart: false, atEnd: true });
    expect(Math.abs((first?.minutes ?? 0) - 45)).toBeLessThan(2);
    expect(Math.abs((second?.minutes ?? 0) - 90)).toBeLessThan(2);
  });

  it('is cut off at both ends of a recording, and loses next to nothing of the walk', () => {
    const walked = withoutEndStops(line([still(60), WALK, still(300)]), BOTH, limits);
    expect(Math.abs(minutesOf(walked) - 90)).toBeLessThan(2);
    expect(Math.abs(lengthM(walked) / (90 * 60 * 1.1) - 1)).toBeLessThan(0.02);
  });

  it('is cut off where its time is no multiple of anything', () => {
    for (const everyS of [1, 7, 13, 50]) {
      const points: TrackPoint[] = [];
      for (let s = 0; s <= 3 * 3600; s += everyS) {
        const metres = Math.min(s, 3600) * 1.1 + (s > 3600 ? (s % 5) * 4 : 0);
        points.push({ ...destination(SOMEWHERE, 90, metres), elevationM: null, timeMs: START_MS + s * 1000 });
      }
      expect(Math.abs(minutesOf(withoutEndStops([points], BOTH, limits)) - 60), `${everyS} s`).toBeLessThan(
        2,
      );
    }
  });

  it('is cut off where the device recorded nothing in it, until it was carried off', () => {
    const walked = line([WALK]).flat();
    const last = walked.at(-1) ?? { ...SOMEWHERE, timeMs: START_MS };
    const later = {
      ...destination(last, 0, 220),
      elevationM: null,
      timeMs: (last.timeMs ?? 0) + 3 * 3_600_000,
    };
    expect(withoutEndStops([[...walked, later]], BOTH, limits)).toEqual([walked]);
  });

  it('leaves nothing where it is the whole recording', () => {
    expect(withoutEndStops(line([still(120)]), BOTH, limits)).toEqual([]);
  });

  it('is no stand while people rest for some minutes at an end', () => {
    const whole = line([still(10), WALK, still(15)]);
    expect(withoutEndStops(whole, BOTH, limits)).toEqual(whole);
  });

  it('of hours inside the day is one step, so that its jitter is no distance, and no stop of the walk', () => {
    const whole = line([WALK, still(240), WALK]);
    const walked = withoutLongStops(whole, limits);
    expect(lengthM(walked)).toBeLessThan(lengthM(whole) - 500);
    expect(minutesOf(walked)).toBe(minutesOf(whole));
    const kinds = intervalsOf(walked, limits);
    const long = kinds.filter(({ kind }) => kind === 'longStand');
    expect(long).toHaveLength(1);
    expect(Math.abs((long[0]?.minutes ?? 0) - 240)).toBeLessThan(3);
    const shorter = line([WALK, still(120), WALK]);
    expect(withoutLongStops(shorter, limits)).toEqual(shorter);
  });
});
