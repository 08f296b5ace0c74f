import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Context, openContext } from '../../src/app/context.ts';
import { addOutingByHand, addOutingOfTrack, listOutings } from '../../src/app/days.ts';
import { addCohort, putCohort } from '../../src/app/groups.ts';
import {
  addRoutes,
  getRoute,
  listRoutes,
  mergePatch,
  patchRoute,
  remeasureRoutes,
} from '../../src/app/routes.ts';
import { fitOfRoute, shortlist } from '../../src/app/shortlist.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { COHORT, NOW_MS, walkWithClock, wayUp } from '../http/service.ts';
import { bytesOf } from '../ingest/samples.ts';
import { writeMountain } from '../support/mountain.ts';
import { tempFolder } from '../support/temp-folder.ts';

const folder = tempFolder();
let surface: Surface;
let store: Store;
let context: Context;
let made = 0;

beforeAll(async () => {
  writeMountain(join(folder, 'mountain.tif'));
  surface = await openSurface([join(folder, 'mountain.tif')]);
});
afterAll(() => surface.close());
beforeEach(() => {
  made += 1;
  store = openStore(join(folder, `store-${made}.db`));
  context = openContext({ store, ground: { surface, design: DESIGN }, nowMs: () => NOW_MS });
});
afterEach(() => store.close());

const FROM_START = { limit: 100, after: null };
const sent = (body = wayUp()) => ({ bytes: bytesOf(body) });
const HAND = { date: '2026-06-20', distanceM: 9200, gainM: 610, movingMin: 240 };
const TRACK = {
  bytes: bytesOf(walkWithClock()),
  mediaType: 'application/gpx+xml',
  date: '2026-06-20',
  rockClass: '1',
  members: ['m1', 'zq7x'],
};

async function oneRoute(body = wayUp()) {
  const { routes } = await addRoutes(context, [sent(body)]);
  const [route] = routes;
  if (route === undefined) throw new Error('no route');
  return route;
}

describe('routes in the library', () => {
  it('measures on the way in and adds the way back', async () => {
    const { route } = await oneRoute();
    expect(route.measures.shape).toBe('outAndBack');
    // 0.0192° of latitude at 46.09 N is 2,134 m on the ellipsoid; the cone rises 0.3 m a metre.
    expect(route.measures.distanceM).toBeCloseTo(2 * 2134, -1);
    expect(route.measures.gainM?.value).toBeGreaterThan(0.29 * 2134);
    expect(route.measures.gainM?.value).toBeLessThan(0.31 * 2134);
  });

  it('keeps neither times nor recorded heights', async () => {
    await oneRoute(walkWithClock().replaceAll('<time>', '<ele>1234.5</ele><time>'));
    const bytes = ['', '-wal'].map((end) => readFileSync(join(folder, `store-${made}.db${end}`)));
    for (const trace of [
      '2026-06-20T',
      '1234.5',
      String(Date.UTC(2026, 5, 20, 8, 0)),
      'timeMs',
      'recordedM',
    ]) {
      expect(
        bytes.some((file) => file.includes(trace)),
        trace,
      ).toBe(false);
    }
  });

  it('stores nothing of several files where one is bad', async () => {
    await expect(addRoutes(context, [sent(), sent('<gpx/>')])).rejects.toMatchObject({ code: 'no-line' });
    expect(await listRoutes(context, FROM_START)).toEqual([]);
  });

  it('lays what a file states over the route of the same name on the same line, and makes no twin', async () => {
    const first = await addRoutes(context, [
      { ...sent(), attributes: { rockClass: '2', trailhead: { roadKm: 12 } } },
    ]);
    const id = first.routes[0]?.id ?? '';
    const again = await addRoutes(context, [
      {
        ...sent(),
        attributes: { rockClass: '2+', surface: null, trailhead: { name: 'Ford' }, treelineM: 1500 },
      },
    ]);
    expect(again).toMatchObject({ created: 0, sameLine: [], changed: [{ id, before: { rockClass: '2' } }] });
    const all = await listRoutes(context, FROM_START);
    expect(all.map((one) => [one.id, one.revision])).toEqual([[id, 2]]);
    expect(all[0]?.route.attributes).toEqual({
      rockClass: '2+',
      trailhead: { roadKm: 12, name: 'Ford' },
      treelineM: 1500,
    });
    // Treeline is a matter of measures.
    expect(all[0]?.route.measures.treelineM).toBe(1500);
  });

  it('takes the waypoints of a file that comes again, and keeps those stored where it has none', async () => {
    const withPoint = wayUp().replace('<trk>', '<wpt lat="46.1" lon="-30.2"><name>Spring</name></wpt><trk>');
    await oneRoute();
    const marked = await oneRoute(withPoint);
    expect(marked).toMatchObject({ revision: 2, route: { waypoints: [{ name: 'Spring' }] } });
    const [bare] = (await addRoutes(context, [{ ...sent(), attributes: { rockClass: '2' } }])).routes;
    expect(bare).toMatchObject({ revision: 3, route: { waypoints: [{ name: 'Spring' }] } });
  });

  it('changes nothing, and makes no new revision, where a file states nothing new', async () => {
    const attributes = { rockClass: '2', groupSizeLimit: 12 };
    await addRoutes(context, [{ ...sent(), attributes }]);
    expect((await addRoutes(context, [{ ...sent(), attributes }])).created).toBe(0);
    for (const stated of [null, { rockClass: '2' }, { groupSizeLimit: 12 }]) {
      const again = await addRoutes(context, [{ ...sent(), attributes: stated }]);
      expect(again).toMatchObject({ created: 0, changed: [], routes: [{ revision: 1 }] });
    }
  });

  it('stores a line under another name as another route, and says which lies on it', async () => {
    await addRoutes(context, [{ ...sent(), attributes: { name: 'In summer' } }]);
    const winter = await addRoutes(context, [{ ...sent(), attributes: { name: 'In winter' } }]);
    expect(winter).toMatchObject({
      created: 1,
      changed: [],
      sameLine: [{ name: 'In summer', newName: 'In winter' }],
    });
    expect(await listRoutes(context, FROM_START)).toHaveLength(2);
  });

  it('changes no stored route where another file of the same request is bad', async () => {
    await addRoutes(context, [{ ...sent(), attributes: { rockClass: '2' } }]);
    await expect(
      addRoutes(context, [{ ...sent(), attributes: { rockClass: '1' } }, sent('<gpx/>')]),
    ).rejects.toMatchObject({ code: 'no-line' });
    expect((await listRoutes(context, FROM_START))[0]).toMatchObject({
      revision: 1,
      route: { attributes: { rockClass: '2' } },
    });
  });

  it('keeps every figure through a change of attributes that has nothing to do with them', async () => {
    const stored = await oneRoute();
    const changed = await patchRoute(context, stored.id, 1, { notes: 'spring is dry in August' });
    expect(changed.route).toEqual({ ...stored.route, attributes: { notes: 'spring is dry in August' } });
    expect(changed.revision).toBe(2);
  });

  it('measures again with a treeline and without it, and keeps what the reader noted', async () => {
    const stored = await oneRoute(wayUp().replace('<name>South Way</name>', ''));
    const codes = stored.route.notes.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(['name-missing', 'way-back-assumed', 'treeline-unknown']));
    const withTreeline = await patchRoute(context, stored.id, 1, { treelineM: 1500, name: 'Named' });
    expect(withTreeline.route.name).toBe('Named');
    expect(withTreeline.route.measures.aboveTreelineM).toBeGreaterThan(1000);
    expect(withTreeline.route.notes.map(({ code }) => code)).not.toContain('treeline-unknown');
    const without = await patchRoute(context, stored.id, 2, { treelineM: null });
    expect(without.route.notes.map(({ code }) => code).sort()).toEqual([...codes].sort());
    expect(without.route.measures).toEqual(stored.route.measures);
  });

  it('refuses a patch that the schema refuses, and one of another revision', async () => {
    const { id } = await oneRoute();
    await expect(patchRoute(context, id, 1, { rockClass: 'hard' })).rejects.toMatchObject({
      code: 'bad-attribute',
    });
    await expect(patchRoute(context, id, 1, 'text')).rejects.toMatchObject({ code: 'bad-attribute' });
    await expect(patchRoute(context, id, 7, {})).rejects.toMatchObject({ code: 'precondition-failed' });
    expect((await getRoute(context, id)).revision).toBe(1);
  });

  it('measures again on other tiles and under other settings, and only then', async () => {
    const stored = await oneRoute();
    expect(await remeasureRoutes(context)).toBe(0);
    const design = withChanges({ treeline: { programM: 1500 } });
    const program = openContext({ store, ground: { surface, design }, nowMs: () => NOW_MS });
    expect(await remeasureRoutes(program)).toBe(1);
    expect((await getRoute(context, stored.id)).route.measures.treelineSource).toBe('program');
    writeMountain(join(folder, 'raised.tif'), 100);
    const raised = await openSurface([join(folder, 'raised.tif')]);
    const other = openContext({ store, ground: { surface: raised, design: DESIGN }, nowMs: () => NOW_MS });
    expect(await remeasureRoutes(other)).toBe(1);
    const again = await getRoute(other, stored.id);
    expect(again.revision).toBe(3);
    expect(again.route.measures.highM).toBeCloseTo((stored.route.measures.highM ?? 0) + 100, 6);
    await raised.close();
  });

  it('measures nothing again where the headers of the same tiles come from the index kept beside', async () => {
    const indexFile = join(folder, 'index.json');
    const stored = await oneRoute();
    for (let start = 0; start < 2; start += 1) {
      const opened = await openSurface([join(folder, 'mountain.tif')], { indexFile });
      const again = openContext({ store, ground: { surface: opened, design: DESIGN }, nowMs: () => NOW_MS });
      expect(await remeasureRoutes(again)).toBe(0);
      await opened.close();
    }
    expect((await getRoute(context, stored.id)).revision).toBe(stored.revision);
  });

  it('finds the heights of a route that came before its tiles', async () => {
    const early = wayUp().replaceAll('-30.2', '-29.2');
    const stored = await oneRoute(early);
    expect(stored.route.measures).toMatchObject({ demCoverage: 0, gainM: null, shape: 'oneWay' });
    expect(stored.route.notes.map(({ code }) => code)).toContain('no-coverage');
  });
});

describe('cohorts and outings in the library', () => {
  it('keeps the meeting place to a hundredth of a degree', async () => {
    const { cohort } = await addCohort(context, COHORT);
    expect(cohort.home).toEqual({ lat: 46.12, lon: -30.23, name: 'harbour hall' });
  });

  it('takes hand-entered outings with a cohort, and sends tracks to their own place', async () => {
    const { id } = await addCohort(context, { ...COHORT, outings: [HAND] });
    expect(await listOutings(context, id, FROM_START)).toHaveLength(1);
    await expect(
      addCohort(context, { ...COHORT, outings: [{ date: '2026-06-20', track: 'walk.gpx' }] }),
    ).rejects.toMatchObject({ code: 'bad-cohort', place: { pointer: '/outings/0/track' } });
  });

  it('learns pace from a recorded day, and keeps no position of it', async () => {
    const { id } = await addCohort(context, COHORT);
    const { outing } = await addOutingOfTrack(context, id, TRACK);
    expect(outing).toMatchObject({ source: 'track', rockClass: '1', members: ['m1', 'zq7x'], movingMin: 96 });
    expect(outing.parts).toHaveLength(2);
    expect(JSON.stringify(outing)).not.toMatch(/46\.0|-30\.2|T08/);
  });

  it('refuses labels that the cohort does not have', async () => {
    const { id } = await addCohort(context, COHORT);
    await expect(addOutingByHand(context, id, { ...HAND, members: ['m9'] })).rejects.toMatchObject({
      code: 'bad-outing',
    });
    await expect(addOutingOfTrack(context, id, { ...TRACK, members: ['m9'] })).rejects.toMatchObject({
      code: 'bad-outing',
    });
    await expect(addOutingByHand(context, id, { date: '2026-06-20', track: 'x.gpx' })).rejects.toMatchObject({
      code: 'bad-outing',
    });
    expect(await listOutings(context, id, FROM_START)).toEqual([]);
  });

  it('notes an outing that lies ahead', async () => {
    const { id } = await addCohort(context, COHORT);
    const ahead = await addOutingByHand(context, id, { ...HAND, date: '2026-07-07' });
    expect(ahead.outing.notes.map(({ code }) => code)).toEqual(['date-ahead']);
    const today = await addOutingByHand(context, id, { ...HAND, date: '2026-07-06' });
    expect(today.outing.notes).toEqual([]);
  });

  it('leaves outings alone when a cohort is replaced, and refuses outings there', async () => {
    const { id } = await addCohort(context, { ...COHORT, outings: [{ ...HAND, members: ['m1', 'm2'] }] });
    await expect(putCohort(context, id, 1, { ...COHORT, outings: [HAND] })).rejects.toMatchObject({
      code: 'bad-cohort',
    });
    const changed = await putCohort(context, id, 1, { ...COHORT, members: ['m1'] });
    expect(changed.revision).toBe(2);
    const [outing] = await listOutings(context, id, FROM_START);
    expect(outing?.outing.members).toEqual(['m1']);
  });
});

describe('rankings in the library', () => {
  const QUERY = { units: 'metric', limit: 100, verdicts: null, afterRank: 0, changes: null } as const;

  it('ranks every route, and keeps one outside the tiles as incomplete', async () => {
    const attributes = { rockClass: '1', treelineM: 2500 };
    await addRoutes(context, [{ ...sent(), attributes }]);
    await addRoutes(context, [{ ...sent(wayUp().replaceAll('-30.2', '-29.2')), attributes }]);
    const outing = { date: '2026-07-04', distanceM: 15000, gainM: 1200, movingMin: 400, rockClass: '1' };
    const { id } = await addCohort(context, { ...COHORT, members: null, outings: [outing] });
    const { fits } = await shortlist(context, { ...QUERY, cohortId: id, date: '2026-07-11' });
    expect(fits.map(({ fit }) => fit.rank)).toEqual([1, 2]);
    expect(fits[1]?.fit).toMatchObject({ verdict: 'incomplete', timeline: null });
    expect(fits[0]?.fit.verdict).toBe('fits');
  });

  it('judges one route as the shortlist does', async () => {
    const { id: routeId } = await oneRoute();
    const { id } = await addCohort(context, { ...COHORT, outings: [HAND] });
    const { fits } = await shortlist(context, { ...QUERY, cohortId: id, date: '2026-07-11' });
    const { fit } = await fitOfRoute(context, { cohortId: id, routeId, date: '2026-07-11', units: 'metric' });
    const [first] = fits;
    expect({ ...fit, rank: 1, certainty: first?.fit.certainty }).toEqual(first?.fit);
    expect([fit.rank, fit.certainty]).toEqual([null, null]);
  });

  it('ranks for a cohort whose outings are as odd as the schema lets them be', async () => {
    await oneRoute();
    const odd = [
      { distanceM: 0, gainM: 0, movingMin: 30 },
      { distanceM: 0, gainM: 0, movingMin: 0 },
      { distanceM: 1e-160, gainM: 0, movingMin: 60 },
      { distanceM: 1, gainM: 30_000, movingMin: 1 },
      { distanceM: 500_000, gainM: 0, movingMin: 10_000 },
      { distanceM: 5e-324, gainM: 5e-324, movingMin: 5e-324 },
    ].map((outing) => ({ ...outing, date: '2026-06-20', confirmed: true }));
    const { id } = await addCohort(context, { ...COHORT, outings: odd });
    const { fits } = await shortlist(context, { ...QUERY, cohortId: id, date: '2026-07-11' });
    expect(fits).toHaveLength(1);
    expect(JSON.stringify(fits)).not.toMatch(/NaN|Infinity/);
  });

  it.each(['9999-12-31', '0000-01-01', '0001-01-01'])(
    'refuses the edge of the calendar, %s',
    async (date) => {
      const { id } = await addCohort(context, COHORT);
      await expect(shortlist(context, { ...QUERY, cohortId: id, date })).rejects.toMatchObject({
        code: 'bad-date',
      });
    },
  );

  it('refuses a day that does not exist', async () => {
    const { id } = await addCohort(context, COHORT);
    await expect(shortlist(context, { ...QUERY, cohortId: id, date: '2026-02-30' })).rejects.toMatchObject({
      code: 'bad-date',
    });
  });
});

describe('merge patch', () => {
  // RFC 7396, appendix A.
  it.each([
    [{ a: 'b' }, { a: 'c' }, { a: 'c' }],
    [{ a: 'b' }, { b: 'c' }, { a: 'b', b: 'c' }],
    [{ a: 'b' }, { a: null }, {}],
    [{ a: 'b', b: 'c' }, { a: null }, { b: 'c' }],
    [{ a: ['b'] }, { a: 'c' }, { a: 'c' }],
    [{ a: 'c' }, { a: ['b'] }, { a: ['b'] }],
    [{ a: { b: 'c' } }, { a: { b: 'd', c: null } }, { a: { b: 'd' } }],
    [{ a: [{ b: 'c' }] }, { a: [1] }, { a: [1] }],
    [
      ['a', 'b'],
      ['c', 'd'],
      ['c', 'd'],
    ],
    [{ a: 'b' }, ['c'], ['c']],
    [{ a: 'foo' }, null, null],
    [{ a: 'foo' }, 'bar', 'bar'],
    [{ e: null }, { a: 1 }, { e: null, a: 1 }],
    [[1, 2], { a: 'b', c: null }, { a: 'b' }],
    [{}, { a: { bb: { ccc: null } } }, { a: { bb: {} } }],
  ])('%j with %j gives %j', (target, patch, result) => {
    expect(mergePatch(target, patch)).toEqual(result);
  });
});
