import { describe, expect, it } from 'vitest';
import { approachTo } from '../../src/approach/approach.ts';
import { fitPaceModel } from '../../src/capability/pace-model.ts';
import { cannotBeMet, type DayPlan, planDay } from '../../src/day/day-plan.ts';
import { walkDay } from '../../src/day/walk-day.ts';
import { DESIGN } from '../../src/design.ts';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { rfc3339 } from '../../src/earth/local-time.ts';
import { dayViews } from '../../src/views/day-view.ts';
import { mountain, shownDay, TRIP } from '../support/fit-input.ts';

const route = mountain();
const pace = fitPaceModel([shownDay(9000, 800), shownDay(10000, 900)], DESIGN);
function dayOf(start: string | null = null, home: { lonDeg: number; latDeg: number } | null = null): DayPlan {
  const wishes = { earliestStart: '04:00', deadline: null, headlamps: true, start };
  const timeline = walkDay(route, pace, TRIP, wishes, DESIGN);
  const straightKm = home === null ? null : geodesicM(home, route.trailhead) / 1000;
  const approach = approachTo(straightKm, { roadKm: null, roadMin: null }, DESIGN.drive);
  return planDay(route, { pace, ageBand: '15-17' }, timeline, approach, DESIGN);
}
const DAY = dayOf();
const views = dayViews(DAY);
const OFFSET = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}[+-]\d{2}:\d{2}$/;

/** Every value of a view, however deep. */
const valuesOf = (view: unknown): unknown[] =>
  typeof view === 'object' && view !== null ? Object.values(view).flatMap(valuesOf) : [view];

describe('dayViews', () => {
  it('is null in every part without a day', () => {
    expect(dayViews(null)).toEqual({
      timeline: null,
      cutOffTimes: null,
      retreatTimes: null,
      stormWindow: null,
      daylight: null,
      drive: null,
    });
  });

  it('writes every time with the offset of the place', () => {
    const times = valuesOf(views).filter(
      (value): value is string => typeof value === 'string' && value.startsWith('2026-'),
    );
    expect(times.length).toBeGreaterThan(20);
    for (const time of times) {
      expect(time).toMatch(OFFSET);
      expect(time).toMatch(/-02:00$/);
    }
    expect(views.stormWindow?.start).toBe(rfc3339(DAY.timeline.startMs, DAY.timeline.zone));
  });

  it('holds finite numbers, rounded, and none that is minus nothing', () => {
    for (const value of valuesOf(views)) {
      if (typeof value !== 'number') continue;
      expect(Number.isFinite(value)).toBe(true);
      expect(Object.is(value, -0)).toBe(false);
    }
    for (const place of views.timeline ?? []) {
      expect(place.distanceM).toBe(Number(place.distanceM.toFixed(1)));
      expect(place.lat).toBe(Number(place.lat.toFixed(6)));
    }
    const [place] = DAY.places;
    expect(place).toBeDefined();
    if (place === undefined) return;
    const shore = dayViews({ ...DAY, places: [{ ...place, elevationM: -0.02, latDeg: -1e-9 }] });
    expect(Object.is(shore.timeline?.[0]?.elevationM, 0)).toBe(true);
    expect(Object.is(shore.timeline?.[0]?.lat, 0)).toBe(true);
  });

  it('has a place for each checkpoint, in order, and cut-off and retreat times where there are some', () => {
    expect(views.timeline?.map(({ kind }) => kind)).toEqual(DAY.places.map(({ kind }) => kind));
    expect(views.cutOffTimes?.map(({ kind }) => kind)).toContain('high');
    expect(views.cutOffTimes?.map(({ kind }) => kind)).not.toContain('trailhead');
    expect(views.cutOffTimes?.every(({ goingUp }) => goingUp)).toBe(true);
    for (const { at, storm, daylight, reason } of views.cutOffTimes ?? []) {
      expect(at).toBe([storm, daylight].filter((time) => time !== null).sort()[0]);
      expect(at).toBe(reason === 'storm' ? storm : daylight);
    }
    expect(views.retreatTimes?.every(({ way }) => way !== null)).toBe(true);
    const high = <T extends { kind: string; at: unknown }>(list: readonly T[] | null) =>
      list?.find(({ kind }) => kind === 'high')?.at;
    expect(high(views.cutOffTimes)).toBe(high(views.retreatTimes));
  });

  it('says which cut-off times not even an early group can meet', () => {
    expect(views.cutOffTimes?.some((entry) => entry.cannotBeMet)).toBe(false);
    const late = dayViews(dayOf('11:00'));
    expect(late.cutOffTimes?.find(({ kind }) => kind === 'high')?.cannotBeMet).toBe(true);
    const at = { p10Ms: 1000, p50Ms: 2000, p90Ms: 3000 };
    expect([null, 0, 999, 1000, 1500].map((cutOffMs) => cannotBeMet({ cutOffMs, at }))).toEqual([
      false,
      true,
      true,
      false,
      false,
    ]);
  });

  it('rounds up the minutes that are short', () => {
    expect(views.stormWindow?.shortByMin).toBeNull();
    expect(dayViews({ ...DAY, shortByMin: 12.01 }).stormWindow?.shortByMin).toBe(13);
    expect(dayViews({ ...DAY, shortByMin: 0 }).stormWindow?.shortByMin).toBe(0);
  });

  it('does not know the drive without a meeting place, and marks an estimated one', () => {
    expect(views.drive).toMatchObject({
      roadKm: null,
      roadMin: null,
      depart: null,
      home: null,
      sleepH: null,
    });
    const home = { lonDeg: route.trailhead.lonDeg, latDeg: route.trailhead.latDeg + 0.1 };
    const { drive } = dayViews(dayOf(null, home));
    expect(drive).toMatchObject({ kmEstimated: true, minEstimated: true, leastSleepH: 8 });
    expect(drive?.depart).toMatch(OFFSET);
    expect(drive?.home?.p90 ?? '').toMatch(OFFSET);
    expect((drive?.depart ?? '') < (views.stormWindow?.start ?? '')).toBe(true);
  });

  it('gives longitudes between −180 and 180 though lines run on past them', () => {
    const places = DAY.places.map((place) => ({ ...place, lonDeg: place.lonDeg + 211 }));
    const [first] = dayViews({ ...DAY, places }).timeline ?? [];
    expect(first?.lon).toBeCloseTo(-30.2 + 211 - 360, 6);
  });

  it('has no storm times where nothing lies above treeline, and still the way home', () => {
    const low = mountain({ attributes: { rockClass: '1', treelineM: 2500, surface: 'trail' } });
    const wishes = { earliestStart: '04:00', deadline: null, headlamps: true };
    const timeline = walkDay(low, pace, TRIP, wishes, DESIGN);
    const approach = approachTo(null, { roadKm: 12, roadMin: 0 }, DESIGN.drive);
    const below = dayViews(planDay(low, { pace, ageBand: 'adult' }, timeline, approach, DESIGN));
    expect(below.stormWindow).toMatchObject({
      latestStart: null,
      probabilityBelowTreelineByDeadline: null,
      shortByMin: null,
      farthestFromTreeline: null,
    });
    expect(below.retreatTimes).toEqual([]);
    expect(below.cutOffTimes?.every(({ reason }) => reason === 'call')).toBe(true);
    expect(below.daylight).toMatchObject({ polar: null, headlampP50Min: 0, endsNearDark: false });
    expect(below.drive).toMatchObject({ roadKm: 12, roadMin: 0 });
  });
});
