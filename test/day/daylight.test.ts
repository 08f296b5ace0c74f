import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitPaceModel } from '../../src/capability/pace-model.ts';
import { daylightOf } from '../../src/day/daylight.ts';
import { type Moment, type Timeline, walkDay } from '../../src/day/walk-day.ts';
import { DESIGN } from '../../src/design.ts';
import { localTimeMs } from '../../src/earth/local-time.ts';
import { mountain, shownDay, TRIP } from '../support/fit-input.ts';

const MIN = 60_000;
const DAY_MIN = 24 * 60;
const ZONE = 'Etc/GMT+2';
const at = (clock: string, days = 0): number => localTimeMs(TRIP, clock, ZONE) + days * DAY_MIN * MIN;
const pace = fitPaceModel([shownDay(9000, 800)], DESIGN);
const wishes = { earliestStart: '04:00', deadline: null, headlamps: true };
const walked = walkDay(mountain(), pace, TRIP, wishes, DESIGN);

/** Light from 05:00 to 21:00, a start at 08:00. */
const day = (more: Partial<Timeline> = {}): Timeline => ({
  ...walked,
  startMs: at('08:00'),
  civilDawnMs: at('05:00'),
  civilDuskMs: at('21:00'),
  polar: null,
  ...more,
});
const end = (p50Ms: number, p90Ms = p50Ms): Moment => ({ p10Ms: p50Ms, p50Ms, p90Ms });
const light = (timeline: Timeline, moment: Moment) => daylightOf(timeline, moment, DESIGN.daylight);
const lampMin = (timeline: Timeline, untilMs: number) => light(timeline, end(untilMs)).headlampMin.p50;

describe('daylightOf', () => {
  it('needs no lamp between dawn and dusk', () => {
    expect(light(day(), end(at('16:00'), at('18:00')))).toEqual({
      headlampMin: { p50: 0, p90: 0 },
      endsNearDark: false,
    });
  });

  it('counts the minutes before dawn and after dusk, each for the middle day and the late one', () => {
    const early = day({ startMs: at('04:20') });
    expect(light(early, end(at('14:00'), at('21:30'))).headlampMin).toEqual({ p50: 40, p90: 70 });
    // Over before it is light: never more than was walked.
    expect(lampMin(early, at('04:50'))).toBe(30);
    expect(lampMin(day({ startMs: at('22:00') }), at('23:00'))).toBe(60);
  });

  it('says that a day ends near dark from an hour before dusk on', () => {
    expect(light(day(), end(at('18:00'), at('20:00'))).endsNearDark).toBe(false);
    expect(light(day(), end(at('18:00'), at('20:01'))).endsNearDark).toBe(true);
    expect(light(day(), end(at('18:00'), at('23:00'))).endsNearDark).toBe(true);
  });

  it('walks in the light again after a night', () => {
    // 21:00 to 05:00 is dark: 8 h, however far into the next day.
    expect(lampMin(day(), at('01:00', 1))).toBe(4 * 60);
    expect(lampMin(day(), at('08:00', 1))).toBe(8 * 60);
    expect(lampMin(day(), at('23:00', 1))).toBe(10 * 60);
    expect(light(day(), end(at('08:00', 1))).endsNearDark).toBe(true);
  });

  it('starts in the light of a dusk after midnight', () => {
    // As far north as twilight ends at 00:30 and begins at 02:00.
    const north = day({ startMs: at('00:10'), civilDawnMs: at('02:00'), civilDuskMs: at('00:30', 1) });
    expect(lampMin(north, at('06:00'))).toBe(90);
  });

  it('needs no lamp in the polar day and where twilight lasts all night, and one all the time in the polar night', () => {
    const without = { civilDawnMs: null, civilDuskMs: null };
    const late = end(at('23:00'), at('23:30'));
    for (const polar of ['day', null] as const) {
      expect(light(day({ ...without, polar }), late)).toEqual({
        headlampMin: { p50: 0, p90: 0 },
        endsNearDark: false,
      });
    }
    expect(light(day({ ...without, polar: 'night' }), late)).toEqual({
      headlampMin: { p50: 15 * 60, p90: 15.5 * 60 },
      endsNearDark: true,
    });
  });

  it('walks by the twilight of a polar night that has some', () => {
    // 69.6 N 18.95 E: the sun does not rise on 2019-12-21 (sources.md §11), but there is twilight about noon.
    const arctic = { ...mountain(), trailhead: { lonDeg: 18.95, latDeg: 69.6, elevationM: 100 } };
    const timeline = walkDay(arctic, pace, '2019-12-21', wishes, DESIGN);
    expect(timeline.polar).toBe('night');
    const { headlampMin, endsNearDark } = light(timeline, end(timeline.startMs + 12 * 60 * MIN));
    expect(headlampMin.p50).toBeGreaterThan(4 * 60);
    expect(headlampMin.p50).toBeLessThan(12 * 60);
    expect(endsNearDark).toBe(true);
  });

  it('is never negative, never more than was walked, and grows with the end', () => {
    const minutes = fc.integer({ min: 0, max: DAY_MIN - 1 });
    fc.assert(
      fc.property(minutes, minutes, minutes, fc.integer({ min: 0, max: 4000 }), (start, dawn, lit, walk) => {
        const civilDawnMs = at('00:00') + dawn * MIN;
        const startMs = at('00:00') + start * MIN;
        const timeline = day({ startMs, civilDawnMs, civilDuskMs: civilDawnMs + lit * MIN });
        const lamp = lampMin(timeline, startMs + walk * MIN);
        expect(lamp).toBeGreaterThanOrEqual(0);
        expect(lamp).toBeLessThanOrEqual(walk);
        expect(lampMin(timeline, startMs + (walk + 30) * MIN)).toBeGreaterThanOrEqual(lamp);
      }),
    );
  });
});
