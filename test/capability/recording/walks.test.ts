import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { intervalsOf } from '../../../src/capability/recording/intervals.ts';
import { firstMs, lastMs, lengthM } from '../../../src/capability/recording/line.ts';
import { walksOf } from '../../../src/capability/recording/walks.ts';
import { DESIGN } from '../../../src/design.ts';
import { destination } from '../../../src/earth/geodesic.ts';
import { EngineError } from '../../../src/errors.ts';
import { stepM } from '../../../src/ingest/step-length.ts';
import type { Track } from '../../../src/ingest/track.ts';
import { SOMEWHERE } from '../../support/elevated.ts';
import { DRIVE, recorded, START_MS, WALK } from './recorded.ts';

const DATE = '2026-06-20';
const walks = (track: Track, home = null as typeof SOMEWHERE | null) => walksOf(track, DATE, home, DESIGN);
const lengthOf = (found: readonly Track[]) => found.reduce((sum, { segments }) => sum + lengthM(segments), 0);
const minutesOf = (found: readonly Track[]) =>
  found.reduce((sum, { segments }) => sum + ((lastMs(segments) ?? 0) - (firstMs(segments) ?? 0)) / 60_000, 0);
const codesOf = (found: readonly Track[]) => found.flatMap(({ notes }) => notes.map(({ code }) => code));
const kindsOf = (found: readonly Track[]) => {
  const sums: Record<string, number> = {};
  for (const interval of found.flatMap(({ segments }) => intervalsOf(segments, DESIGN.recording))) {
    sums[interval.kind] = (sums[interval.kind] ?? 0) + interval.minutes;
  }
  return sums;
};
const WALK_M = 90 * 60 * 1.1;

describe('walksOf', () => {
  it('leaves a day that was all walked as it was', () => {
    const track = recorded([WALK]);
    const found = walks(track);
    expect(found.map(({ segments }) => segments)).toEqual([track.segments]);
    expect(codesOf(found)).toEqual([]);
  });

  it('cuts off a drive at either end and says so: length within 2 %, time within 2 min', () => {
    const found = walks(recorded([DRIVE, WALK, DRIVE]));
    expect(Math.abs(lengthOf(found) / WALK_M - 1)).toBeLessThan(0.02);
    expect(Math.abs(minutesOf(found) - 90)).toBeLessThan(2);
    expect(codesOf(found)).toContain('drive-cut');
  });

  it('leaves a ride in the middle out of distance and time, not bridged', () => {
    const found = walks(recorded([WALK, DRIVE, WALK]));
    expect(found).toHaveLength(2);
    expect(Math.abs(lengthOf(found) / (2 * WALK_M) - 1)).toBeLessThan(0.02);
    expect(Math.abs(minutesOf(found) - 180)).toBeLessThan(4);
    expect(codesOf(found)).toContain('ride-cut');
  });

  it('cuts off a device left running, which is no stop of the walk', () => {
    const found = walks(recorded([WALK, { minutes: 240, speedMs: 0 }]));
    expect(Math.abs(minutesOf(found) - 90)).toBeLessThan(3);
    expect(codesOf(found)).toContain('left-running');
  });

  it('keeps a pause inside the day as standing time', () => {
    const found = walks(recorded([WALK, { minutes: 15, speedMs: 0 }, WALK]));
    expect(codesOf(found)).toEqual([]);
    const kinds = kindsOf(found);
    expect(kinds.standing).toBeGreaterThan(13);
    expect(kinds.standing).toBeLessThan(17);
    expect(kinds.moving).toBeGreaterThan(178);
  });

  it('loses the times that go back or jump, and never has negative minutes', () => {
    const track = recorded([WALK]);
    const points = (track.segments[0] ?? []).map((point, i) => {
      if (i === 100) return { ...point, timeMs: 0 };
      if (i === 200) return { ...point, timeMs: (point.timeMs ?? 0) - 60_000 };
      return point;
    });
    const found = walks({ ...track, segments: [points] });
    for (const { segments } of found) {
      for (const { minutes } of intervalsOf(segments, DESIGN.recording))
        expect(minutes).toBeGreaterThanOrEqual(0);
    }
    expect(Math.abs(minutesOf(found) - 90)).toBeLessThan(1);
  });

  it('counts a recording without times for its line', () => {
    const track = recorded([WALK]);
    const points = (track.segments[0] ?? []).map((point) => ({ ...point, timeMs: null }));
    expect(Math.abs(lengthOf(walks({ ...track, segments: [points] })) / WALK_M - 1)).toBeLessThan(1e-6);
  });

  it('cuts what lies near the meeting place at both ends before anything is measured', () => {
    const away = { minutes: 45, speedMs: 1.1 };
    const back = { minutes: 45, speedMs: 1.1, bearingDeg: 270 };
    const found = walks(recorded([away, back]), SOMEWHERE);
    // 500 m at either end (architecture: minors), and the 677 m by which 0.005 degrees may be off at 46.1 N
    expect(lengthOf(found)).toBeLessThan(WALK_M - 2 * 1170);
    expect(lengthOf(found)).toBeGreaterThan(WALK_M - 2 * 1200);
    expect(codesOf(found)).toContain('ends-cut');
    expect(JSON.stringify(found[0]?.notes)).not.toMatch(/46\.1|30\.2/);
  });

  it('does not end the cut at the meeting place with a bad fix far off', () => {
    const track = recorded([{ minutes: 5, speedMs: 0 }, WALK]);
    const points = (track.segments[0] ?? []).map((point, i) =>
      i === 10 ? { ...point, ...destination(point, 0, 2000) } : point,
    );
    const [first] = walks({ ...track, segments: [points] }, SOMEWHERE)[0]?.segments[0] ?? [];
    expect(stepM(SOMEWHERE, first ?? SOMEWHERE)).toBeGreaterThan(DESIGN.recording.homeRadiusM + 677);
  });

  it('does not say that points are far apart where only a drive has them so', () => {
    const coarse = { code: 'coarse-geometry', text: 'far apart' };
    expect(codesOf(walks({ ...recorded([DRIVE, WALK]), notes: [coarse] }))).toEqual(['drive-cut']);
  });

  it('says that a drive cannot be told from walking without times', () => {
    const track = recorded([WALK]);
    const points = (track.segments[0] ?? []).map((point) => ({ ...point, timeMs: null }));
    expect(codesOf(walks({ ...track, segments: [points] }))).toContain('rides-unseen');
  });

  it('refuses a track that never leaves the meeting place, and one that is a ride from end to end', () => {
    expect(() => walks(recorded([{ minutes: 5, speedMs: 1 }]), SOMEWHERE)).toThrow(EngineError);
    expect(() => walks(recorded([{ minutes: 30, speedMs: 15 }]))).toThrow('ride');
  });

  it('tells of a recording of another day', () => {
    const found = walksOf(recorded([WALK]), '2026-06-10', null, DESIGN);
    expect(codesOf(found)).toContain('date-differs');
  });

  it('never lengthens a walk, and accounts for all of its time', () => {
    const leg = fc.record({
      minutes: fc.integer({ min: 5, max: 60 }),
      speedMs: fc.constantFrom(0, 0.5, 1.1, 1.4, 8),
      bearingDeg: fc.integer({ min: 0, max: 359 }),
    });
    fc.assert(
      fc.property(fc.array(leg, { minLength: 1, maxLength: 5 }), (legs) => {
        const track = recorded([WALK, ...legs]);
        const found = walks(track);
        expect(lengthOf(found)).toBeLessThanOrEqual(lengthM(track.segments) + 1e-6);
        const counted = Object.values(kindsOf(found)).reduce((sum, minutes) => sum + minutes, 0);
        expect(counted).toBeLessThanOrEqual(((lastMs(track.segments) ?? 0) - START_MS) / 60_000 + 1e-6);
        expect(counted).toBeCloseTo(minutesOf(found), 4);
      }),
      { numRuns: 60 },
    );
  });
});

describe('a recording with a hole', () => {
  const holed = (minutes: number, metres: number): Track => {
    const first = recorded([WALK]);
    const end = first.segments[0]?.at(-1) ?? { ...SOMEWHERE, timeMs: START_MS };
    const second = recorded([WALK], destination(end, 90, metres), (end.timeMs ?? 0) + minutes * 60_000);
    return { ...first, segments: [[...(first.segments[0] ?? []), ...(second.segments[0] ?? [])]] };
  };

  it('bridges a short one at walking speed', () => {
    const found = walks(holed(3, 150));
    expect(Math.abs(lengthOf(found) - (2 * WALK_M + 150))).toBeLessThan(20);
  });

  it('opens one that is longer than a candidate route may hold, and says so', () => {
    const found = walks(holed(60, 1500));
    expect(found).toHaveLength(2);
    expect(Math.abs(lengthOf(found) - 2 * WALK_M)).toBeLessThan(20);
    expect(codesOf(found)).toContain('gap');
  });

  it('learns no time from a long one', () => {
    const kinds = kindsOf(walks(holed(60, 1500)));
    expect((kinds.moving ?? 0) + (kinds.standing ?? 0)).toBeLessThan(182);
  });
});
