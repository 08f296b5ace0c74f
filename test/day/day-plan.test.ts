import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { approachTo } from '../../src/approach/approach.ts';
import { cannotBeMet, planDay } from '../../src/day/day-plan.ts';
import { walkDay } from '../../src/day/walk-day.ts';
import { DESIGN } from '../../src/design.ts';
import { readinessOf } from '../../src/rank/readiness.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const AT_HAND = { roadKm: 12, roadMin: 20 };

const drawnDay = fc
  .record({
    lengthUpM: fc.integer({ min: 1500, max: 9000 }),
    gainM: fc.integer({ min: 150, max: 1400 }),
    treelineM: fc.integer({ min: 1000, max: 2600 }),
    shownM: fc.integer({ min: 5000, max: 20_000 }),
    earliest: fc.constantFrom('03:30', '05:00', '06:30'),
    date: fc.constantFrom(TRIP, '2026-08-30', '2026-10-03'),
  })
  .map(({ lengthUpM, gainM, treelineM, shownM, earliest, date }) => {
    const route = mountain({ lengthUpM, gainM, attributes: { rockClass: '2', treelineM, surface: 'trail' } });
    const record = { cohort: COHORT, outings: [{ ...shownDay(shownM, shownM / 12), date }] };
    const { pace, ageBand } = readinessOf({ record, date, design: DESIGN });
    const timeline = walkDay(
      route,
      pace,
      date,
      { earliestStart: earliest, deadline: null, headlamps: true },
      DESIGN,
    );
    const approach = approachTo(null, AT_HAND, DESIGN.drive);
    return planDay(route, { pace, ageBand }, timeline, approach, DESIGN);
  });

describe('the times of a day', () => {
  it('agree: start, turn-back times as they rise, the top, the deadline, the late return, the call for help', () => {
    fc.assert(
      fc.property(drawnDay, ({ timeline, places, end, callOutMs }) => {
        const { startMs, storm } = timeline;
        const marks = places.flatMap((place) => (place.cutOffMs === null ? [] : [place.cutOffMs]));
        expect([...marks].sort((a, b) => a - b)).toEqual(marks);
        expect(Math.max(startMs, ...marks)).toBeLessThanOrEqual(end.p90Ms);
        expect(end.p90Ms).toBeLessThan(callOutMs);
        for (const place of places) {
          if (place.cutOffMs !== null && !cannotBeMet(place)) {
            expect(place.cutOffMs).toBeGreaterThan(startMs);
          }
          if (place.retreatMs === null) continue;
          expect(place.retreatMs).toBeLessThanOrEqual(Math.min(storm.deadline.atMs, end.p90Ms));
          if (place.kind === 'high') expect(place.retreatMs).toBe(place.cutOffMs);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('leave room where there is some: the middle arrival comes before every turn-back time', () => {
    fc.assert(
      fc.property(drawnDay, ({ timeline, places }) => {
        const { startMs, earliestStartMs, storm } = timeline;
        if (storm.latestStartMs === null || startMs <= earliestStartMs) return;
        expect(startMs).toBeLessThanOrEqual(storm.latestStartMs);
        for (const { at, cutOffMs } of places) {
          if (cutOffMs !== null) expect(at.p50Ms).toBeLessThan(cutOffMs);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('lead back the way one came on the way up there and back', () => {
    fc.assert(
      fc.property(drawnDay, ({ places }) => {
        for (const { goingUp, roadOut } of places)
          if (goingUp && roadOut !== null) expect(roadOut.way).toBe('back');
      }),
      { numRuns: 50 },
    );
  });
});
