import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { intervalsOf } from '../../../src/capability/recording/intervals.ts';
import { fixesOf, type Line } from '../../../src/capability/recording/line.ts';
import { trustedClock } from '../../../src/capability/recording/trusted-clock.ts';
import { DESIGN } from '../../../src/design.ts';
import { recorded, START_MS, WALK } from './recorded.ts';

const DAY = 86_400_000;
const line = recorded([WALK]).segments;
const withTimes = (timeOf: (timeMs: number, i: number) => number | null): Line =>
  line.map((points) => points.map((point, i) => ({ ...point, timeMs: timeOf(point.timeMs ?? 0, i) })));
const trusted = (given: Line) => trustedClock(given, DESIGN.recording);
const lost = (given: Line) => {
  const { line: kept, notes } = trusted(given);
  const times = kept.flat().map(({ timeMs }) => timeMs);
  return { which: times.flatMap((ms, i) => (ms === null ? [i] : [])), codes: notes.map(({ code }) => code) };
};

describe('trustedClock', () => {
  it('hands on a clock that runs as it should, untouched', () => {
    expect(trusted(line)).toEqual({ line, notes: [] });
  });

  it('takes the time from points that are not after the one before, and keeps every point', () => {
    const given = withTimes((ms, i) => (i === 50 ? ms - 10_000 : i === 80 ? ms - 60_000 : ms));
    const { which, codes } = lost(given);
    expect(which).toHaveLength(2);
    expect(which).toContain(80);
    expect(codes).toEqual([]);
    expect(trusted(given).line.flat()).toHaveLength(line.flat().length);
  });

  it.each([
    ['1970', (ms: number, i: number) => (i < 5 ? i * 1000 : ms), [0, 1, 2, 3, 4]],
    ['a day ahead', (ms: number, i: number) => (i > 99 && i < 103 ? ms + DAY : ms), [100, 101, 102]],
    ['an hour ahead', (ms: number, i: number) => (i === 7 ? ms + DAY / 24 : ms), [7]],
    ['a day ahead at the end', (ms: number, i: number) => (i > 538 ? ms + DAY : ms), [539, 540]],
  ])('takes the times of a clock that jumps to %s, and says so', (_, timeOf, which) => {
    expect(lost(withTimes(timeOf))).toEqual({ which, codes: ['clock-jump'] });
  });

  it('keeps the times of both days where a recording goes on after more than a day', () => {
    const given = withTimes((ms, i) => (i > 270 ? ms + DAY : ms));
    expect(lost(given)).toEqual({ which: [], codes: [] });
  });

  it('takes the times of the shorter side where a clock goes back at midnight', () => {
    const given = withTimes((ms, i) => (i > 400 ? ms - DAY : ms));
    const { which, codes } = lost(given);
    expect(which).toEqual(Array.from({ length: 140 }, (_, k) => 401 + k));
    expect(codes).toEqual(['clock-jump']);
  });

  it('never leaves a time that is not after the one before, whatever the file says', () => {
    fc.assert(
      fc.property(
        fc.array(fc.option(fc.integer({ min: 0, max: 1000 })), { minLength: 2, maxLength: 60 }),
        (seconds) => {
          const points = seconds.map((s, i) => ({
            lonDeg: -30.2 + i * 1e-4,
            latDeg: 46.1,
            elevationM: null,
            timeMs: s === null ? null : START_MS + s * 1000,
          }));
          const kept = trusted([points]).line;
          const times = fixesOf(kept).map(({ timeMs }) => timeMs);
          expect(times.every((ms, i) => i === 0 || ms > (times[i - 1] ?? 0))).toBe(true);
          expect(intervalsOf(kept, DESIGN.recording).every(({ minutes }) => minutes > 0)).toBe(true);
        },
      ),
    );
  });

  it('leaves next to nothing of a clock that runs backwards', () => {
    const backwards = withTimes((_, i) => START_MS - i * 10_000);
    expect(fixesOf(trusted(backwards).line)).toHaveLength(1);
  });
});
