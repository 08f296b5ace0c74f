import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openContext } from '../../src/app/context.ts';
import {
  addRoutes,
  getRoute,
  listRoutes,
  mergePatch,
  patchRoute,
  remeasureRoutes,
} from '../../src/app/routes.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { NOW_MS, walkWithClock, wayUp } from '../http/service.ts';
import { eachContext, oneRoute, sentRoute } from '../support/each-context.ts';
import { writeMountain } from '../support/mountain.ts';

const at = eachContext();
const FROM_START = { limit: 100, after: null };

describe('stored routes', () => {
  it('measures on the way in and adds the way back', async () => {
    const { route } = await oneRoute(at.context);
    expect(route.measures.shape).toBe('outAndBack');
    // 0.0192° of latitude at 46.09 N is 2,134 m on the ellipsoid; the cone rises 0.3 m a metre.
    expect(route.measures.distanceM).toBeCloseTo(2 * 2134, -1);
    expect(route.measures.gainM?.value).toBeGreaterThan(0.29 * 2134);
    expect(route.measures.gainM?.value).toBeLessThan(0.31 * 2134);
  });

  it('keeps neither times nor recorded heights', async () => {
    await oneRoute(at.context, walkWithClock().replaceAll('<time>', '<ele>1234.5</ele><time>'));
    const bytes = ['', '-wal'].map((end) => readFileSync(`${at.databaseFile}${end}`));
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
    await expect(addRoutes(at.context, [sentRoute(), sentRoute('<gpx/>')])).rejects.toMatchObject({
      code: 'no-line',
    });
    expect(await listRoutes(at.context, FROM_START)).toEqual([]);
  });

  it('lays what a file states over the route of the same name on the same line, and makes no twin', async () => {
    const first = await addRoutes(at.context, [
      { ...sentRoute(), attributes: { rockClass: '2', trailhead: { roadKm: 12 } } },
    ]);
    const id = first.routes[0]?.id ?? '';
    const again = await addRoutes(at.context, [
      {
        ...sentRoute(),
        attributes: { rockClass: '2+', surface: null, trailhead: { name: 'Ford' }, treelineM: 1500 },
      },
    ]);
    expect(again).toMatchObject({ created: 0, sameLine: [], changed: [{ id, before: { rockClass: '2' } }] });
    const all = await listRoutes(at.context, FROM_START);
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
    await oneRoute(at.context);
    const marked = await oneRoute(at.context, withPoint);
    expect(marked).toMatchObject({ revision: 2, route: { waypoints: [{ name: 'Spring' }] } });
    const [bare] = (await addRoutes(at.context, [{ ...sentRoute(), attributes: { rockClass: '2' } }])).routes;
    expect(bare).toMatchObject({ revision: 3, route: { waypoints: [{ name: 'Spring' }] } });
  });

  it('changes nothing, and makes no new revision, where a file states nothing new', async () => {
    const attributes = { rockClass: '2', groupSizeLimit: 12 };
    await addRoutes(at.context, [{ ...sentRoute(), attributes }]);
    expect((await addRoutes(at.context, [{ ...sentRoute(), attributes }])).created).toBe(0);
    for (const stated of [null, { rockClass: '2' }, { groupSizeLimit: 12 }]) {
      const again = await addRoutes(at.context, [{ ...sentRoute(), attributes: stated }]);
      expect(again).toMatchObject({ created: 0, changed: [], routes: [{ revision: 1 }] });
    }
  });

  it('stores a line under another name as another route, and says which lies on it', async () => {
    await addRoutes(at.context, [{ ...sentRoute(), attributes: { name: 'In summer' } }]);
    const winter = await addRoutes(at.context, [{ ...sentRoute(), attributes: { name: 'In winter' } }]);
    expect(winter).toMatchObject({
      created: 1,
      changed: [],
      sameLine: [{ name: 'In summer', newName: 'In winter' }],
    });
    expect(await listRoutes(at.context, FROM_START)).toHaveLength(2);
  });

  it('changes no stored route where another file of the same request is bad', async () => {
    await addRoutes(at.context, [{ ...sentRoute(), attributes: { rockClass: '2' } }]);
    await expect(
      addRoutes(at.context, [{ ...sentRoute(), attributes: { rockClass: '1' } }, sentRoute('<gpx/>')]),
    ).rejects.toMatchObject({ code: 'no-line' });
    expect((await listRoutes(at.context, FROM_START))[0]).toMatchObject({
      revision: 1,
      route: { attributes: { rockClass: '2' } },
    });
  });

  it('keeps every figure through a change of attributes that has nothing to do with them', async () => {
    const stored = await oneRoute(at.context);
    const changed = await patchRoute(at.context, stored.id, 1, { notes: 'spring is dry in August' });
    expect(changed.route).toEqual({ ...stored.route, attributes: { notes: 'spring is dry in August' } });
    expect(changed.revision).toBe(2);
  });

  it('measures again with a treeline and without it, and keeps what the reader noted', async () => {
    const stored = await oneRoute(at.context, wayUp().replace('<name>South Way</name>', ''));
    const codes = stored.route.notes.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(['name-missing', 'way-back-assumed', 'treeline-unknown']));
    const withTreeline = await patchRoute(at.context, stored.id, 1, { treelineM: 1500, name: 'Named' });
    expect(withTreeline.route.name).toBe('Named');
    expect(withTreeline.route.measures.aboveTreelineM).toBeGreaterThan(1000);
    expect(withTreeline.route.notes.map(({ code }) => code)).not.toContain('treeline-unknown');
    const without = await patchRoute(at.context, stored.id, 2, { treelineM: null });
    expect(without.route.notes.map(({ code }) => code).sort()).toEqual([...codes].sort());
    expect(without.route.measures).toEqual(stored.route.measures);
  });

  it('measures again where open ground is stated, and refuses a treeline that no tree reaches', async () => {
    const { id } = await oneRoute(at.context);
    const open = await patchRoute(at.context, id, 1, { treelineM: 2900, openAboveM: 0 });
    expect(open.route.measures.aboveTreelineM).toBeCloseTo(open.route.measures.distanceM, 0);
    await expect(patchRoute(at.context, id, 2, { treelineM: 5900 })).rejects.toMatchObject({
      place: { pointer: '/treelineM' },
      code: 'bad-attribute',
    });
    expect((await getRoute(at.context, id)).revision).toBe(2);
  });

  it('refuses a patch that the schema refuses, and one of another revision', async () => {
    const { id } = await oneRoute(at.context);
    await expect(patchRoute(at.context, id, 1, { rockClass: 'hard' })).rejects.toMatchObject({
      code: 'bad-attribute',
    });
    await expect(patchRoute(at.context, id, 1, 'text')).rejects.toMatchObject({ code: 'bad-attribute' });
    await expect(patchRoute(at.context, id, 7, {})).rejects.toMatchObject({ code: 'precondition-failed' });
    expect((await getRoute(at.context, id)).revision).toBe(1);
  });

  it('measures again on other tiles and under other settings, and only then', async () => {
    const stored = await oneRoute(at.context);
    expect(await remeasureRoutes(at.context)).toBe(0);
    const design = withChanges({ treeline: { programM: 1500 } });
    const program = openContext({
      store: at.store,
      ground: { surface: at.surface, design },
      nowMs: () => NOW_MS,
    });
    expect(await remeasureRoutes(program)).toBe(1);
    expect((await getRoute(at.context, stored.id)).route.measures.treelineSource).toBe('program');
    writeMountain(join(at.folder, 'raised.tif'), 100);
    const raised = await openSurface([join(at.folder, 'raised.tif')]);
    const other = openContext({
      store: at.store,
      ground: { surface: raised, design: DESIGN },
      nowMs: () => NOW_MS,
    });
    expect(await remeasureRoutes(other)).toBe(1);
    const again = await getRoute(other, stored.id);
    expect(again.revision).toBe(3);
    expect(again.route.measures.highM).toBeCloseTo((stored.route.measures.highM ?? 0) + 100, 6);
    await raised.close();
  });

  it('measures nothing again where the headers of the same tiles come from the index kept beside', async () => {
    const indexFile = join(at.folder, 'index.json');
    const stored = await oneRoute(at.context);
    for (let start = 0; start < 2; start += 1) {
      const opened = await openSurface([join(at.folder, 'mountain.tif')], { indexFile });
      const again = openContext({
        store: at.store,
        ground: { surface: opened, design: DESIGN },
        nowMs: () => NOW_MS,
      });
      expect(await remeasureRoutes(again)).toBe(0);
      await opened.close();
    }
    expect((await getRoute(at.context, stored.id)).revision).toBe(stored.revision);
  });

  it('finds the heights of a route that came before its tiles', async () => {
    const early = wayUp().replaceAll('-30.2', '-29.2');
    const stored = await oneRoute(at.context, early);
    expect(stored.route.measures).toMatchObject({ demCoverage: 0, gainM: null, shape: 'oneWay' });
    expect(stored.route.notes.map(({ code }) => code)).toContain('no-coverage');
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
