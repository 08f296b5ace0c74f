import { existsSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { afterDay, seasonRecord } from '../../src/app/after.ts';
import { readCohortFile, readRouteFiles } from '../../src/app/files.ts';
import { type Ground, type RouteFile, routesOf } from '../../src/app/measure.ts';
import { cohortRecordOf } from '../../src/app/recordings.ts';
import { fitFor } from '../../src/app/shortlist.ts';
import { DESIGN } from '../../src/design.ts';
import { rfc3339 } from '../../src/earth/local-time.ts';
import { makeTripPlan } from '../../src/plan/trip-plan.ts';
import type { CohortRecord } from '../../src/rank/readiness.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { placeText } from '../../src/text/place-words.ts';
import { predictionText } from '../../src/text/shown-words.ts';
import { dayViews } from '../../src/views/day-view.ts';

const COHORT = 'data/demo/cohorts/marram-seniors.json';
const WALK = 'data/demo/cohorts/walks/seniors-two-knolls.gpx';
const DAY = '2026-06-14';

async function oneRoute(path: string, ground: Ground): Promise<Route> {
  const [file] = await readRouteFiles([path]);
  const [route] = file === undefined ? [] : await routesOf(file, ground);
  if (route === undefined) throw new RangeError('no route');
  return route;
}

describe('after a day of the demo', () => {
  let ground: Ground;
  let route: Route;
  let record: CohortRecord;
  const file: RouteFile = { bytes: readFileSync(WALK), fileName: 'walk.gpx' };

  beforeAll(async () => {
    ground = { surface: await openSurface(['data/demo/dem']), design: DESIGN };
    route = await oneRoute('data/demo/routes/two-knolls-round.gpx', ground);
    const { cohort, readTrack } = await readCohortFile(COHORT);
    record = await cohortRecordOf(cohort, readTrack, ground);
  });
  afterAll(() => ground.surface.close());

  it('passes every checkpoint in the order of the plan', async () => {
    const { compared } = await afterDay({ route, record, date: DAY, file }, ground);
    const times = compared.checkpoints.map(({ passedMs }) => passedMs ?? Number.NaN);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(compared).toMatchObject({ turnedBack: false, isWholeRoute: true });
    // The recording begins at 09:00 UTC, 07:00 by the clock of the place.
    expect((compared.start.actualMs ?? 0) - Date.UTC(2026, 5, 14, 9)).toBeLessThan(3 * 60_000);
  });

  it('holds the checkpoints of the trip plan, by the names on it, to their cut-off times', async () => {
    const earlier = { ...record, outings: record.outings.filter(({ date }) => date < DAY) };
    const plan = makeTripPlan({
      fit: fitFor(route, { record: earlier, date: DAY, design: DESIGN }),
      record: earlier,
      date: DAY,
      today: DAY,
      known: [],
      spareDate: null,
      warm: null,
      design: DESIGN,
    });
    const { compared } = await afterDay({ route, record, date: DAY, file }, ground);
    const { checkpoints } = compared;
    expect(checkpoints.map(({ name }) => name)).toEqual(
      plan.details?.day.places.map((place) => placeText(place, 'metric')),
    );
    const bounded = checkpoints.filter(({ cutOffMs }) => cutOffMs !== null);
    expect(bounded.map(({ cutOffMs }) => rfc3339(cutOffMs ?? 0, compared.zone))).toEqual(
      dayViews(plan.details?.day ?? null).cutOffTimes?.map(({ at }) => at),
    );
    expect(bounded.length).toBeGreaterThan(2);
    expect(bounded.every(({ goingUp }) => goingUp)).toBe(true);
    for (const { passedMs, cutOffMs, isByCutOff } of bounded) {
      expect(isByCutOff).toBe((passedMs ?? 0) <= (cutOffMs ?? 0));
    }
    // The group set out almost two hours after the plan: late up the hill, in time at its top.
    expect(bounded.map(({ isByCutOff }) => isByCutOff)).toEqual([false, false, false, true]);
    expect(checkpoints.at(-1)).toMatchObject({ kind: 'end', cutOffMs: null, isByCutOff: null });
  });

  it('names the heights of checkpoints in the units asked for', async () => {
    const { compared } = await afterDay({ route, record, date: DAY, file, units: 'us' }, ground);
    const names = compared.checkpoints.map(({ name }) => name);
    expect(names.some((name) => /, [\d,]+ ft$/.test(name))).toBe(true);
    expect(names.some((name) => /\d m$/.test(name))).toBe(false);
  });

  it('plans from the outings before the day alone, and learns from the day', async () => {
    const all = await afterDay({ route, record, date: DAY, file }, ground);
    const earlier = { ...record, outings: record.outings.filter(({ date }) => date < DAY) };
    expect(await afterDay({ route, record: earlier, date: DAY, file }, ground)).toEqual(all);
    expect([all.before.clockedOutings, all.after.clockedOutings]).toEqual([2, 3]);
    const width = ({ dayMin }: typeof all.before) => (dayMin.p90 - dayMin.p10) / dayMin.p50;
    expect(width(all.after)).toBeLessThan(width(all.before));
    expect(all.record.rows.map(({ date }) => date)).toEqual(['2026-05-16', '2026-05-30', DAY]);
    expect(all.record.rows.at(-1)).toEqual(all.row);
  });

  it('counts the rock class only where the whole route was walked', async () => {
    const whole = await afterDay({ route, record, date: DAY, file }, ground);
    expect(whole.outing.rockClass).toBe(route.attributes.rockClass);
    const text = readFileSync(WALK, 'utf8');
    const points = text.match(/<trkpt[\s\S]*?<\/trkpt>/g) ?? [];
    const half = text.replace(/<trkseg>[\s\S]*<\/trkseg>/, () => {
      const up = points.slice(0, Math.floor(points.length / 4));
      return `<trkseg>${up.join('')}</trkseg>`;
    });
    const cut = { ...file, bytes: new TextEncoder().encode(half) };
    const { compared, outing } = await afterDay({ route, record, date: DAY, file: cut }, ground);
    expect(outing.rockClass).toBeNull();
    expect(compared.turnedBack).toBeNull();
    expect(compared.belowTreeline.outcome).not.toBe('inTime');
  });

  it('refuses a recording of another day', async () => {
    await expect(afterDay({ route, record, date: '2026-06-17', file }, ground)).rejects.toMatchObject({
      code: 'bad-date',
      message: expect.stringContaining('2026-06-14'),
    });
  });

  it('predicts each day of a season for those who were there', () => {
    const { rows } = seasonRecord(record, '2026-07-11', DESIGN);
    expect(rows).toHaveLength(5);
    // One who was there on 21 June, and on no day before: no faster than the rule, with its doubt.
    const joined = {
      cohort: { ...record.cohort, members: [...(record.cohort.members ?? []), 'new1'] },
      outings: record.outings.map((outing) =>
        outing.date === '2026-06-21' ? { ...outing, members: ['m1', 'new1'] } : outing,
      ),
    };
    const at = (of: CohortRecord) =>
      seasonRecord(of, '2026-07-11', DESIGN).rows[3]?.predictedMin ?? { p10: 0, p90: 0 };
    expect(at(joined).p90 - at(joined).p10).toBeGreaterThan(at(record).p90 - at(record).p10);
  });

  it('has no record without outings', () => {
    const none = seasonRecord({ ...record, outings: [] }, '2026-07-11', DESIGN);
    expect(none.n).toBe(0);
    expect(predictionText(none)).toBe('no day yet with a climb and a moving time to set beside a prediction');
  });
});

const DATA = '../shared/data';
const HIKE = `${DATA}/tracks/cima-sasso.gpx`;

describe.skipIf(!existsSync(HIKE))(
  'after a real hike, planned from its own line (needs ../shared/data)',
  () => {
    it('passes start, top and end in order and turns nowhere', async () => {
      const ground: Ground = { surface: await openSurface([`${DATA}/dem`]), design: DESIGN };
      try {
        const file: RouteFile = { bytes: readFileSync(HIKE), fileName: 'cima-sasso.gpx' };
        const [route] = await routesOf({ ...file, attributes: { treelineM: 1700 } }, ground);
        if (route === undefined) throw new RangeError('no route');
        const cohort = { name: 'Walkers', participants: 2, ageBand: 'adult' as const };
        const record = { cohort, outings: [] };
        const { compared, row, after, before } = await afterDay(
          { route, record, date: '2016-04-10', file },
          ground,
        );
        const kinds = compared.checkpoints.map(({ kind }) => kind);
        const main = ['trailhead', 'treelineUp', 'high', 'treelineDown', 'end'];
        expect(kinds.filter((kind) => main.includes(kind))).toEqual(main);
        expect(kinds.length).toBeGreaterThan(main.length);
        const times = compared.checkpoints.map(({ passedMs }) => passedMs ?? Number.NaN);
        expect(times).toEqual([...times].sort((a, b) => a - b));
        expect(times).not.toContain(Number.NaN);
        expect(compared).toMatchObject({ isOnRoute: true, turnedBack: false, isWholeRoute: true });
        // Moving 139 min up and 132 min down (reference reading of its clock, computed apart from this project)
        expect(Math.abs((compared.moving.actualMin ?? 0) - 271)).toBeLessThan(6);
        expect(row?.inside80).toBe(true);
        expect(after.clockedOutings - before.clockedOutings).toBe(1);
      } finally {
        await ground.surface.close();
      }
    });
  },
);
