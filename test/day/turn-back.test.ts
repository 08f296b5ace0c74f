import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitPaceModel, type PaceModel } from '../../src/capability/pace-model.ts';
import { turnBackTimes } from '../../src/day/turn-back.ts';
import { walkDay } from '../../src/day/walk-day.ts';
import { DESIGN } from '../../src/design.ts';
import { localTimeMs } from '../../src/earth/local-time.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { describeRoute } from '../../src/route/describe-route.ts';
import { elevated } from '../support/elevated.ts';
import { mountain, shownDay, TRIP } from '../support/fit-input.ts';

const DEADLINE = localTimeMs(TRIP, '11:06', 'Etc/GMT+2');
const BACK_BY = localTimeMs(TRIP, '19:30', 'Etc/GMT+2');
const pace = fitPaceModel([shownDay(9000, 800), shownDay(10000, 900)], DESIGN);

/** A pace `factor` times slower, doubts and all. */
function slower(model: PaceModel, factor: number): PaceModel {
  return {
    ...model,
    posterior: {
      ...model.posterior,
      mean: model.posterior.mean.map((rate) => rate * factor),
      covariance: model.posterior.covariance.map((row) => row.map((value) => value * factor ** 2)),
    },
  };
}

const at = (route: Route, distancesM: readonly number[], model = pace) =>
  turnBackTimes(route, model, distancesM, { deadlineMs: DEADLINE, backByMs: BACK_BY }, DESIGN).at;

/** A loop: a long even climb, then a short steep way down to the start. */
function loop(upM: number, downM: number): Route {
  const up = Array.from({ length: upM / 20 + 1 }, (_, i) => 1200 + (800 * i) / (upM / 20));
  const down = Array.from({ length: downM / 20 }, (_, i) => 2000 - (800 * (i + 1)) / (downM / 20));
  const steps = up.length + down.length - 1;
  return describeRoute(
    elevated({
      heightsM: [...up, ...down],
      bearingsDeg: Array.from({ length: steps }, (_, i) => (360 * i) / steps),
      name: 'Round',
    }),
    DESIGN,
    { attributes: { rockClass: '2', treelineM: 1800, surface: 'trail' } },
  );
}

describe('cut-off and retreat times', () => {
  const hill = fc.record({
    lengthUpM: fc.integer({ min: 75, max: 300 }).map((n) => n * 20),
    gainM: fc.integer({ min: 300, max: 1400 }),
  });

  it('rise along the climb, fall towards the top, and meet there', () => {
    fc.assert(
      fc.property(
        hill,
        fc.array(fc.double({ min: 0.02, max: 0.98, noNaN: true }), { maxLength: 6 }),
        (of, shares) => {
          const route = mountain({
            ...of,
            attributes: { rockClass: '2', treelineM: 1200 + of.gainM / 2, surface: 'rough' },
          });
          const highM = route.high?.distanceM ?? 0;
          const places = [
            ...new Set([0, ...shares.map((share) => share * highM).sort((a, b) => a - b), highM]),
          ];
          const times = at(route, places);
          times.slice(1).forEach((time, i) => {
            expect(time.stormMs ?? 0).toBeGreaterThanOrEqual(times[i]?.stormMs ?? 0);
            expect(time.daylightMs ?? 0).toBeGreaterThanOrEqual(times[i]?.daylightMs ?? 0);
          });
          const retreats = times.flatMap(({ retreatMs }) => (retreatMs === null ? [] : [retreatMs]));
          retreats.slice(1).forEach((retreat, i) => {
            expect(retreat).toBeLessThanOrEqual(retreats[i] ?? 0);
          });
          const top = times.at(-1);
          expect(top?.stormMs).toBe(top?.retreatMs);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('are never later for a group slower by a common factor', () => {
    fc.assert(
      fc.property(hill, fc.double({ min: 1, max: 2.5, noNaN: true }), (of, factor) => {
        const route = mountain({
          ...of,
          attributes: { rockClass: '2', treelineM: 1200 + of.gainM / 2, surface: 'trail' },
        });
        const highM = route.high?.distanceM ?? 0;
        const places = [0.2, 0.5, 0.8, 1].map((share) => share * highM);
        const quick = at(route, places);
        at(route, places, slower(pace, factor)).forEach((time, i) => {
          expect(time.stormMs ?? 0).toBeLessThanOrEqual((quick[i]?.stormMs ?? 0) + 1e-3);
          expect(time.retreatMs ?? 0).toBeLessThanOrEqual((quick[i]?.retreatMs ?? 0) + 1e-3);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('are the latest start at the trailhead, of a hill whose way back is the way up', () => {
    const route = mountain();
    const timeline = walkDay(
      route,
      pace,
      TRIP,
      { earliestStart: '04:00', deadline: '11:06', headlamps: true },
      DESIGN,
    );
    const [start] = at(route, [0]);
    expect(start?.stormMs ?? 0).toBeCloseTo(timeline.storm.latestStartMs ?? 0, -3);
  });

  it('count the planned way of a loop, and say by when going back from the top is still in time', () => {
    const quickDown = loop(6000, 2000);
    const top = turnBackTimes(
      quickDown,
      pace,
      [quickDown.high?.distanceM ?? 0],
      { deadlineMs: DEADLINE, backByMs: null },
      DESIGN,
    );
    expect(top.at[0]?.retreatWay).toBe('onward');
    expect(top.backFromTopByMs).toBeNull();

    const longDown = loop(2000, 6000);
    const highM = longDown.high?.distanceM ?? 0;
    const { at: times, backFromTopByMs } = turnBackTimes(
      longDown,
      pace,
      [0.5 * highM, highM],
      { deadlineMs: DEADLINE, backByMs: null },
      DESIGN,
    );
    const [half, summit] = times;
    expect(summit?.stormMs).toBe(summit?.retreatMs);
    expect(backFromTopByMs ?? 0).toBeGreaterThan(summit?.stormMs ?? 0);
    expect(half?.stormMs ?? 0).toBeLessThan(summit?.stormMs ?? 0);
  });

  it('name the place of a loop that has to be left before the top is', () => {
    // A long way round above treeline, its top at the far end of the ground above it.
    const ridge = describeRoute(
      elevated({
        heightsM: [
          ...Array.from({ length: 51 }, (_, i) => 1200 + 16 * i),
          ...Array.from({ length: 200 }, (_, i) => 2000 + i / 10),
          ...Array.from({ length: 50 }, (_, i) => 2019 - 16 * (i + 1)),
        ],
      }),
      DESIGN,
      { attributes: { rockClass: '1', treelineM: 1900, surface: 'trail' } },
    );
    const highM = ridge.high?.distanceM ?? 0;
    const { at: times, firstToLeave } = turnBackTimes(
      ridge,
      pace,
      [highM],
      { deadlineMs: DEADLINE, backByMs: null },
      DESIGN,
    );
    expect(firstToLeave?.distanceM ?? 0).toBeLessThan(highM);
    expect(firstToLeave?.byMs ?? 0).toBeLessThan(times[0]?.retreatMs ?? 0);
    expect(
      turnBackTimes(mountain(), pace, [], { deadlineMs: DEADLINE, backByMs: null }, DESIGN).firstToLeave,
    ).toBeNull();
  });

  it('are only for daylight where nothing lies above treeline, and none at all where the sun stays up', () => {
    const low = mountain({ attributes: { rockClass: '1', treelineM: 2500 } });
    const [half] = at(low, [2000]);
    expect(half).toMatchObject({ stormMs: null, retreatMs: null });
    expect(half?.daylightMs).toBeLessThan(BACK_BY);
    expect(
      turnBackTimes(low, pace, [2000], { deadlineMs: null, backByMs: null }, DESIGN).at[0]?.daylightMs,
    ).toBeNull();
  });

  it('of a place beyond the top are for the way down alone', () => {
    const route = mountain();
    const [down, low] = at(route, [4200, 7000]);
    expect(down?.stormMs).toBeNull();
    expect(down?.retreatMs).not.toBeNull();
    expect(low).toEqual({ stormMs: null, daylightMs: null, retreatMs: null, retreatWay: null });
  });

  it('name the place farthest from treeline: the top of a hill, the middle of a plateau', () => {
    const route = mountain();
    expect(
      turnBackTimes(route, pace, [], { deadlineMs: DEADLINE, backByMs: null }, DESIGN).farthest?.distanceM,
    ).toBeCloseTo(4000, -2);

    const flat = [
      ...Array.from({ length: 101 }, (_, i) => 1200 + 8 * i),
      ...Array.from({ length: 300 }, () => 2000),
      ...Array.from({ length: 101 }, (_, i) => 2000 - 8 * i),
    ];
    const traverse = describeRoute(elevated({ heightsM: flat }), DESIGN, {
      attributes: { rockClass: '1', treelineM: 1900, surface: 'trail' },
    });
    const { farthest } = turnBackTimes(traverse, pace, [], { deadlineMs: DEADLINE, backByMs: null }, DESIGN);
    expect(farthest?.distanceM).toBeGreaterThan(4000);
    expect(farthest?.distanceM).toBeLessThan(6000);
  });
});
