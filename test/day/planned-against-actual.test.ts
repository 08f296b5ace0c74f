import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type PlannedAgainstActual,
  type PlannedDay,
  plannedAgainstActual,
} from '../../src/day/planned-against-actual.ts';
import { DESIGN } from '../../src/design.ts';
import { destination, type Place } from '../../src/earth/geodesic.ts';
import type { TrackPoint } from '../../src/ingest/track.ts';
import { SOMEWHERE } from '../support/elevated.ts';

const MIN = 60_000;
const START_MS = Date.UTC(2026, 6, 11, 8);
/** A place so far up a straight way to the north. */
const upAt = (distanceM: number): Place => destination(SOMEWHERE, 0, distanceM);
const moment = (afterMin: number) => ({
  p10Ms: START_MS + 0.8 * afterMin * MIN,
  p50Ms: START_MS + afterMin * MIN,
  p90Ms: START_MS + 1.2 * afterMin * MIN,
});

/** Up 4 km and back at a kilometre in 20 min; treeline at 2 km. */
const PLAN: PlannedDay = {
  date: '2026-07-11',
  zone: 'Etc/GMT+2',
  startMs: START_MS,
  deadlineMs: START_MS + 180 * MIN,
  treeline: 'crossed',
  movingMin: 160,
  standingMin: 30,
  checkpoints: [
    { kind: 'trailhead', atM: 0, up: true },
    { kind: 'treelineUp', atM: 2000, up: true },
    { kind: 'high', atM: 4000, up: true },
    { kind: 'treelineDown', atM: 6000, up: false },
    { kind: 'end', atM: 8000, up: false },
  ].map(({ kind, atM, up }) => ({
    name: kind,
    kind,
    ...upAt(atM <= 4000 ? atM : 8000 - atM),
    distanceM: atM,
    goingUp: up,
    at: moment(atM / 50),
    cutOffMs: kind === 'high' ? START_MS + 100 * MIN : null,
  })),
};

/** A recording through stations `[metres up the way, minutes after 08:00]`, a fix every 15 s, `offM` east of the way. */
function walked(stations: readonly (readonly [number, number])[], offM = 0): TrackPoint[] {
  const points: TrackPoint[] = [];
  stations.forEach(([toM, toMin], i) => {
    const [fromM, fromMin] = stations[i - 1] ?? [toM, toMin];
    const steps = Math.max(1, Math.round((toMin - fromMin) * 4));
    for (let step = i === 0 ? steps : 1; step <= steps; step += 1) {
      const share = step / steps;
      const place = upAt(fromM + share * (toM - fromM));
      points.push({
        ...(offM === 0 ? place : destination(place, 90, offM)),
        elevationM: null,
        timeMs: START_MS + (fromMin + share * (toMin - fromMin)) * MIN,
      });
    }
  });
  return points;
}

const TIMES = { movingMin: 150, standingMin: 20 };
const compare = (...segments: readonly TrackPoint[][]): PlannedAgainstActual =>
  plannedAgainstActual(PLAN, { segments }, TIMES, DESIGN);
const passedMin = (compared: PlannedAgainstActual) =>
  compared.checkpoints.map(({ passedMs }) =>
    passedMs === null ? null : Math.round((passedMs - START_MS) / MIN),
  );
const none = [null, null, null, null, null];

describe('a plan beside its day', () => {
  it('walked as planned is on time everywhere', () => {
    const compared = compare(
      walked([
        [0, 0],
        [4000, 80],
        [0, 160],
      ]),
    );
    expect(passedMin(compared)).toEqual([0, 40, 80, 120, 160]);
    for (const { lateMin, isInside, kind } of compared.checkpoints) {
      expect(Math.abs(lateMin ?? 9)).toBeLessThan(0.6);
      expect(isInside).toBe(kind === 'trailhead' ? null : true);
    }
    expect(compared).toMatchObject({
      isOnRoute: true,
      turnedBack: false,
      turnedMs: null,
      highestReached: { kind: 'high' },
      belowTreeline: { outcome: 'inTime' },
      isWholeRoute: true,
      moving: { plannedMin: 160, actualMin: 150 },
      standing: { plannedMin: 30, actualMin: 20 },
    });
  });

  it('tells the way up from the way down at the same place, in the order of the walk', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 30, max: 90 }), { minLength: 4, maxLength: 4 }),
        fc.integer({ min: 0, max: 40 }),
        ([a = 40, b = 40, c = 40, d = 40], rest) => {
          const compared = compare(
            walked([
              [0, 0],
              [2000, a],
              [4000, a + b],
              [4000, a + b + rest],
              [2000, a + b + rest + c],
              [0, a + b + rest + c + d],
            ]),
          );
          const times = [0, a, a + b, a + b + rest + c, a + b + rest + c + d];
          passedMin(compared).forEach((passed, i) => {
            expect(Math.abs((passed ?? 1e9) - (times[i] ?? 0))).toBeLessThanOrEqual(1);
          });
        },
      ),
      { numRuns: 25 },
    );
  });

  it('counts a rest at the top from its beginning, and one at the start to its end', () => {
    const compared = compare(
      walked([
        [0, -30],
        [0, 12],
        [4000, 92],
        [4000, 122],
        [0, 202],
      ]),
    );
    expect(passedMin(compared)).toEqual([12, 52, 92, 162, 202]);
    expect(compared.start.lateMin).toBeCloseTo(12, 0);
    expect(compared.checkpoints[2]?.lateMin).toBeCloseTo(12, 0);
    // What the pace alone did: nothing.
    expect(Math.abs(compared.checkpoints[2]?.lateSinceStartMin ?? 9)).toBeLessThan(1);
  });

  it('tells early and late from inside, and by the cut-off from after it', () => {
    const high = (minutes: number) =>
      compare(
        walked([
          [0, 0],
          [4000, minutes],
          [0, minutes + 80],
        ]),
      ).checkpoints[2];
    expect(high(60)).toMatchObject({ isInside: false, isByCutOff: true });
    expect(high(60)?.lateMin).toBeLessThan(-19);
    expect(high(94)).toMatchObject({ isInside: true, isByCutOff: true });
    expect(high(99)).toMatchObject({ isInside: false, isByCutOff: true });
    expect(high(101)).toMatchObject({ isInside: false, isByCutOff: false });
    expect(
      compare(
        walked([
          [0, 0],
          [4000, 80],
          [0, 160],
        ]),
      ).checkpoints[1]?.isByCutOff,
    ).toBeNull();
  });

  it('says where and when a group turned back, and that it came below treeline', () => {
    const compared = compare(
      walked([
        [0, 0],
        [3000, 70],
        [0, 130],
      ]),
    );
    expect(passedMin(compared)).toEqual([0, 46, null, 90, 130]);
    expect(compared).toMatchObject({
      turnedBack: true,
      highestReached: { kind: 'treelineUp' },
      belowTreeline: { outcome: 'inTime' },
      isWholeRoute: false,
    });
    expect((compared.turnedMs ?? 0) - START_MS).toBeCloseTo(70 * MIN, -5);
  });

  it('says that a group that turned below treeline was never above it', () => {
    const compared = compare(
      walked([
        [0, 0],
        [1500, 30],
        [0, 60],
      ]),
    );
    expect(passedMin(compared)).toEqual([0, null, null, null, 60]);
    expect(compared).toMatchObject({
      turnedBack: true,
      belowTreeline: { outcome: 'neverAbove', passedMs: null },
    });
  });

  it('does not take a turn just short of treeline for passing it', () => {
    const compared = compare(
      walked([
        [0, 0],
        [1940, 39],
        [0, 78],
      ]),
    );
    expect(passedMin(compared)).toEqual([0, null, null, null, 78]);
    expect(compared.belowTreeline.outcome).toBe('neverAbove');
  });

  it('brings a group that turned back on a round below treeline where it went up', () => {
    const far = destination(upAt(2000), 90, 3000);
    const plan = {
      ...PLAN,
      checkpoints: PLAN.checkpoints.map((one) => (one.kind === 'treelineDown' ? { ...one, ...far } : one)),
    };
    const segments = [
      walked([
        [0, 0],
        [3000, 70],
        [0, 130],
      ]),
    ];
    const compared = plannedAgainstActual(plan, { segments }, TIMES, DESIGN);
    expect(compared.checkpoints[3]?.passedMs).toBeNull();
    expect(compared.belowTreeline.outcome).toBe('inTime');
    expect(((compared.belowTreeline.passedMs ?? 0) - START_MS) / MIN).toBeCloseTo(90, -0.5);
  });

  it('says late where treeline was left after the deadline', () => {
    expect(
      compare(
        walked([
          [0, 0],
          [4000, 100],
          [4000, 160],
          [0, 240],
        ]),
      ).belowTreeline.outcome,
    ).toBe('late');
  });

  it('says nothing of what was not recorded: not of turning back, never in time', () => {
    const cases = {
      'ends on the way up': [
        walked([
          [0, 0],
          [3000, 60],
        ]),
      ],
      'ends just above treeline': [
        walked([
          [0, 0],
          [2060, 42],
        ]),
      ],
      'has a hole where it is nearest to the top': [
        walked([
          [0, 0],
          [3000, 60],
        ]),
        walked([
          [3000, 120],
          [0, 180],
        ]),
      ],
    };
    for (const [name, segments] of Object.entries(cases)) {
      const compared = compare(...segments);
      expect([name, compared.turnedBack, compared.turnedMs]).toEqual([name, null, null]);
    }
    for (const to of [2060, 3000, 4000]) {
      expect(
        compare(
          walked([
            [0, 0],
            [to, 70],
          ]),
        ).belowTreeline,
      ).toMatchObject({ outcome: 'notKnown', passedMs: null });
    }
    // Down to 60 m from treeline, and the recording stops.
    expect(
      compare(
        walked([
          [0, 0],
          [4000, 80],
          [2060, 119],
        ]),
      ).belowTreeline.outcome,
    ).toBe('notKnown');
  });

  it('passes no checkpoint on another mountain, without times or without points', () => {
    const elsewhere = walked(
      [
        [0, 0],
        [4000, 80],
        [0, 160],
      ],
      20_000,
    );
    const timeless = walked([
      [0, 0],
      [4000, 80],
      [0, 160],
    ]).map((point) => ({ ...point, timeMs: null }));
    for (const segments of [[elsewhere], [timeless], []]) {
      const compared = compare(...segments);
      expect(passedMin(compared)).toEqual(none);
      expect(compared).toMatchObject({
        isOnRoute: false,
        start: { actualMs: null, lateMin: null },
        highestReached: null,
        turnedBack: null,
        belowTreeline: { outcome: 'notKnown' },
        isWholeRoute: false,
      });
    }
  });

  it('passes a place within 100 m and not beyond', () => {
    const at = (offM: number) =>
      passedMin(
        compare(
          walked(
            [
              [0, 0],
              [4000, 80],
              [0, 160],
            ],
            offM,
          ),
        ),
      );
    expect(at(90).every((passed) => passed !== null)).toBe(true);
    expect(at(110)).toEqual(none);
  });

  it('is the same across the antimeridian however longitudes are written', () => {
    const points = walked([
      [0, 0],
      [4000, 80],
      [0, 160],
    ]);
    const turned = points.map((point) => ({ ...point, lonDeg: point.lonDeg + 360 }));
    expect(passedMin(compare(turned))).toEqual(passedMin(compare(points)));
  });

  it('gives no outcome where treeline is not known, and none is needed where nothing lies above it', () => {
    const segments = [
      walked([
        [0, 0],
        [4000, 80],
        [0, 160],
      ]),
    ];
    const outcome = (treeline: PlannedDay['treeline']) =>
      plannedAgainstActual({ ...PLAN, treeline }, { segments }, TIMES, DESIGN).belowTreeline.outcome;
    expect(outcome('notKnown')).toBe('notKnown');
    expect(outcome('notReached')).toBe('neverAbove');
  });

  it('keeps no place', () => {
    const text = JSON.stringify(
      compare(
        walked([
          [0, 0],
          [4000, 80],
          [0, 160],
        ]),
      ),
    );
    expect(text).not.toMatch(/lonDeg|latDeg|46\.1|30\.2/);
  });
});
