import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import { fitPaceModel } from '../../src/capability/pace-model.ts';
import { deadlineOf } from '../../src/day/deadline.ts';
import { type DayWishes, walkDay } from '../../src/day/walk-day.ts';
import { DESIGN } from '../../src/design.ts';
import { clock, localTimeMs } from '../../src/earth/local-time.ts';
import { mountain, shownDay, TRIP } from '../support/fit-input.ts';

const wishes: DayWishes = { earliestStart: '04:00', deadline: null, headlamps: true };
const pace = fitPaceModel([shownDay(9000, 800), shownDay(10000, 900)], DESIGN);
const day = (over: Partial<DayWishes> = {}, route = mountain()) =>
  walkDay(route, pace, TRIP, { ...wishes, ...over }, DESIGN);
const at = (timeline: ReturnType<typeof day>, kind: string) => {
  const found = timeline.checkpoints.find((checkpoint) => checkpoint.kind === kind);
  if (found === undefined) throw new RangeError(`no ${kind}`);
  return found.at;
};

describe('deadlineOf', () => {
  it('is an hour before solar noon where that comes before noon', () => {
    const noon = localTimeMs(TRIP, '12:06', 'Etc/GMT+2');
    const deadline = deadlineOf(TRIP, 'Etc/GMT+2', noon, null, DESIGN.stormWindow);
    expect(clock(deadline.atMs, 'Etc/GMT+2')).toBe('11:06');
  });

  it('is 12:00 where solar noon is late, as under daylight saving time', () => {
    // NOAA sheet for 40 N 105 W on 2021-06-23: solar noon 13:02:15 at UTC-6
    const noon = localTimeMs(TRIP, '13:02', 'America/Denver');
    const deadline = deadlineOf(TRIP, 'America/Denver', noon, null, DESIGN.stormWindow);
    expect(clock(deadline.atMs, 'America/Denver')).toBe('12:00');
  });

  it('is the program’s where it sets one, with the usual one kept beside it', () => {
    const noon = localTimeMs(TRIP, '12:06', 'Etc/GMT+2');
    const deadline = deadlineOf(TRIP, 'Etc/GMT+2', noon, '13:30', DESIGN.stormWindow);
    expect(clock(deadline.atMs, 'Etc/GMT+2')).toBe('13:30');
    expect(clock(deadline.usualMs, 'Etc/GMT+2')).toBe('11:06');
    expect(deadline.setBy).toBe('program');
  });
});

describe('walkDay', () => {
  it('passes the checkpoints in order, each with its spread in order', () => {
    const { checkpoints } = day();
    expect(checkpoints.map((checkpoint) => checkpoint.kind)).toEqual([
      'trailhead',
      'treelineUp',
      'high',
      'treelineDown',
      'end',
    ]);
    checkpoints.forEach((checkpoint, i) => {
      const { p10Ms, p50Ms, p90Ms } = checkpoint.at;
      expect(p10Ms).toBeLessThanOrEqual(p50Ms);
      expect(p50Ms).toBeLessThanOrEqual(p90Ms);
      const before = checkpoints[i - 1];
      if (before !== undefined) expect(p50Ms).toBeGreaterThan(before.at.p50Ms);
    });
  });

  it('leaves treeline by the deadline nine times in ten from the latest start', () => {
    const timeline = day();
    const latest = timeline.storm.latestStartMs ?? 0;
    const late = at(timeline, 'treelineDown').p90Ms - timeline.startMs;
    expect(latest + late).toBeCloseTo(timeline.storm.deadline.atMs, -2);
    expect(timeline.startMs).toBeLessThanOrEqual(latest);
    expect(timeline.storm.probability).toBeGreaterThanOrEqual(0.9);
  });

  it('never raises the probability of the deadline by a later start', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 8 * 60 }), fc.integer({ min: 1, max: 120 }), (minute, later) => {
        const text = (total: number) =>
          `${String(Math.floor(total / 60)).padStart(2, '0')}:${String(total % 60).padStart(2, '0')}`;
        const chance = (total: number) =>
          day({ earliestStart: text(total) }).storm.probabilityAtEarliest ?? 0;
        expect(chance(minute + later)).toBeLessThanOrEqual(chance(minute) + 1e-12);
      }),
      { numRuns: 40 },
    );
  });

  it('does not start before civil dawn without headlamps', () => {
    const timeline = day({ headlamps: false });
    expect(timeline.startMs).toBeGreaterThanOrEqual(timeline.civilDawnMs ?? 0);
    expect(day({ headlamps: null }).startMs).toBeGreaterThanOrEqual(timeline.civilDawnMs ?? 0);
  });

  it('has no storm window to keep where nothing lies above treeline', () => {
    const low = mountain({ attributes: { rockClass: '1', treelineM: 2500, surface: 'trail' } });
    const timeline = day({}, low);
    expect(timeline.storm.latestStartMs).toBeNull();
    expect(clock(timeline.startMs, timeline.zone)).toBe('08:00');
  });

  it('walks slower on rough ground and with a wider doubt', () => {
    const spread = (surface: 'trail' | 'rough' | 'talus') => {
      const timeline = day({}, mountain({ attributes: { rockClass: '2', treelineM: 1800, surface } }));
      return {
        middle: timeline.dayMin.p50,
        width: timeline.dayMin.p90 - timeline.dayMin.p10,
      };
    };
    expect(spread('rough').middle).toBeGreaterThan(1.15 * spread('trail').middle);
    expect(spread('talus').middle).toBeGreaterThan(spread('rough').middle);
    // Talus takes 1/0.6 of the time (Tobler 1993, off path); the doubt grows by more than that.
    expect(spread('talus').width).toBeGreaterThan(spread('trail').width / 0.6);
  });

  it('counts unknown ground above treeline as rough from class 1+ on', () => {
    const minutes = (rockClass: string) =>
      day({}, mountain({ attributes: { rockClass, treelineM: 1800 } })).dayMin.p50;
    expect(minutes('1+')).toBeGreaterThan(minutes('1'));
    expect(minutes('2')).toBe(minutes('1+'));
  });

  it('climbs slower far above the height of the training, and descends no slower', () => {
    const high = mountain({ baseM: 3000, attributes: { rockClass: '1', treelineM: 5000, surface: 'trail' } });
    const low = mountain({ baseM: 700, attributes: { rockClass: '1', treelineM: 5000, surface: 'trail' } });
    const split = (route: typeof high) => {
      const timeline = day({}, route);
      const up = at(timeline, 'high').p50Ms - timeline.startMs;
      return { up, down: at(timeline, 'end').p50Ms - at(timeline, 'high').p50Ms };
    };
    expect(split(high).up).toBeGreaterThan(1.05 * split(low).up);
    expect(split(high).down).toBeCloseTo(split(low).down, -4);
  });

  it('never finishes a longer or higher mountain sooner', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 300 }),
        fc.integer({ min: 100, max: 1200 }),
        fc.integer({ min: 0, max: 50 }),
        fc.integer({ min: 0, max: 300 }),
        (steps, gainM, moreSteps, moreM) => {
          const minutes = (lengthSteps: number, climb: number) =>
            day({}, mountain({ lengthUpM: lengthSteps * 20, gainM: climb })).dayMin.p50;
          expect(minutes(steps + moreSteps, gainM + moreM)).toBeGreaterThanOrEqual(
            minutes(steps, gainM) - 1e-9,
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  it('copes with a day on which the sun does not set or rise', () => {
    const outing = handOuting({ date: TRIP, distanceM: 9000, gainM: 600, movingMin: 240 });
    const model = fitPaceModel([outing], DESIGN);
    const arctic = { ...mountain(), trailhead: { lonDeg: 18.95, latDeg: 69.6, elevationM: 100 } };
    // 69.6 N 18.95 E on 2019-06-05 has no sunset (sources.md §11)
    expect(walkDay(arctic, model, '2019-06-05', wishes, DESIGN).polar).toBe('day');
    expect(walkDay(arctic, model, '2019-12-21', { ...wishes, headlamps: false }, DESIGN).polar).toBe('night');
  });
});
