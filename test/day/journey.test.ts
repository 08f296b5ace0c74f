import { describe, expect, it } from 'vitest';
import type { Approach } from '../../src/approach/approach.ts';
import { approachTo } from '../../src/approach/approach.ts';
import { fitPaceModel } from '../../src/capability/pace-model.ts';
import { journeyOf } from '../../src/day/journey.ts';
import { type Timeline, walkDay } from '../../src/day/walk-day.ts';
import { type AgeBand, DESIGN } from '../../src/design.ts';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { clockOn } from '../../src/text/words.ts';
import { mountain, shownDay, TRIP } from '../support/fit-input.ts';

const pace = fitPaceModel([shownDay(9000, 800)], DESIGN);
const dayFrom = (start: string): Timeline =>
  walkDay(mountain(), pace, TRIP, { earliestStart: null, deadline: null, headlamps: true, start }, DESIGN);
const drive = (roadMin: number | null): Approach => ({
  straightKm: 20,
  roadKm: 30,
  roadMin,
  kmEstimated: false,
  minEstimated: false,
});
const END = { p10Ms: 1000, p50Ms: 2000, p90Ms: 3000 };
const MIN = 60_000;

function journey(
  given: { start?: string; roadMin?: number | null; age?: AgeBand; design?: typeof DESIGN.journey } = {},
) {
  const { start = '05:00', roadMin = 60, age = 'adult', design = DESIGN.journey } = given;
  return journeyOf(dayFrom(start), END, drive(roadMin), age, design);
}
const departs = (found: ReturnType<typeof journey>): string | null =>
  found.departMs === null ? null : clockOn(found.departMs, 'Etc/GMT+2', TRIP);

describe('journeyOf', () => {
  it('leaves in time to be ready at the trailhead, and is home after the drive', () => {
    const found = journey();
    // 60 min of road and 20 min to get ready before 05:00; 20 min to pack up and the road after the walk.
    expect(departs(found)).toBe('03:40');
    expect(found.home).toEqual({ p10Ms: 1000 + 80 * MIN, p50Ms: 2000 + 80 * MIN, p90Ms: 3000 + 80 * MIN });
  });

  it('counts the sleep from the evening before to getting up', () => {
    // 21:30 to 02:40, 45 min before meeting.
    expect(journey().sleepH).toBeCloseTo(5 + 10 / 60, 9);
    expect(journey().tooLittleSleep).toBe(true);
    expect(journey({ start: '09:00' })).toMatchObject({ tooLittleSleep: false, leastSleepH: 7 });
  });

  it('asks for more sleep of minors', () => {
    // Up at 05:55: 8.4 h, enough for all but the youngest.
    const night = (age: AgeBand) => journey({ start: '08:00', age }).tooLittleSleep;
    expect((['8-11', '12-14', '15-17', 'adult'] as const).map(night)).toEqual([true, false, false, false]);
  });

  it('does not know when to leave where the drive is not known', () => {
    expect(journey({ roadMin: null })).toMatchObject({
      departMs: null,
      home: null,
      sleepH: null,
      tooLittleSleep: false,
      leastSleepH: 7,
    });
  });

  it('has no drive, not an unknown one, from a meeting place at the trailhead', () => {
    expect(departs(journey({ roadMin: 0 }))).toBe('04:40');
  });

  it('passes the approach on, with what is an estimate', () => {
    const { trailhead } = mountain();
    const home = { lonDeg: trailhead.lonDeg, latDeg: trailhead.latDeg + 0.2 };
    const estimate = approachTo(
      geodesicM(home, trailhead) / 1000,
      { roadKm: null, roadMin: null },
      DESIGN.drive,
    );
    const found = journeyOf(dayFrom('05:00'), END, estimate, 'adult', DESIGN.journey);
    expect(found.approach).toEqual(estimate);
    expect(found.approach.minEstimated).toBe(true);
    expect(found.departMs).not.toBeNull();
  });

  it('never sleeps less than nothing, and may leave on the evening before', () => {
    const found = journey({ start: '02:00', roadMin: 360 });
    expect(departs(found)).toBe('19:40 the day before');
    expect(found).toMatchObject({ sleepH: 0, tooLittleSleep: true });
  });

  it('takes a bedtime after midnight for the night before the day, not for a day earlier', () => {
    const design = { ...DESIGN.journey, bedtime: '00:30' };
    // 00:30 to 02:40, 45 min before meeting.
    expect(journey({ design })).toMatchObject({ tooLittleSleep: true });
    expect(journey({ design }).sleepH).toBeCloseTo(2 + 10 / 60, 9);
  });
});
