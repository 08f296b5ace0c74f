import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { InjectOptions } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openContext } from '../../src/app/context.ts';
import { listOutings } from '../../src/app/days.ts';
import { loadDemo } from '../../src/app/demo.ts';
import { namedRoutes } from '../../src/app/routes.ts';
import { DESIGN } from '../../src/design.ts';
import { PAGE_KEYS } from '../../src/document/plan-document.ts';
import type { App } from '../../src/http/deps.ts';
import { buildApp } from '../../src/service.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { tempFolder } from '../support/temp-folder.ts';
import { krummholz } from '../support/terminal.ts';

const WORDS = [
  'produced using Copernicus WorldDEM-30 © DLR e.V. 2010-2014 and © Airbus Defence and Space GmbH 2014-2018 provided under COPERNICUS by the European Union and ESA; all rights reserved',
  'The organisations in charge of the Copernicus programme by law or by delegation do not incur any liability for any use of the Copernicus WorldDEM-30',
];
const DAY = '2026-07-11';
const GPX = { 'content-type': 'application/gpx+xml' };

/** Whether each of the licence's words stands in a text, however its lines are broken. */
const credited = (text: string): boolean => {
  const plain = text.replace(/\s+/g, ' ');
  return WORDS.every((words) => plain.includes(words));
};

/** The demo on tiles under the names of Copernicus, with a few of its routes. */
function demoAsCopernicus(folder: string): void {
  for (const part of ['dem', 'routes', 'cohorts/walks']) mkdirSync(join(folder, part), { recursive: true });
  const demo = (path: string) => join('data/demo', path);
  copyFileSync(
    demo('dem/corvanney-west.tif'),
    join(folder, 'dem/Copernicus_DSM_COG_10_N46_00_W031_00_DEM.tif'),
  );
  copyFileSync(
    demo('dem/corvanney-east.tif'),
    join(folder, 'dem/Copernicus_DSM_COG_10_N46_00_W030_00_DEM.tif'),
  );
  for (const name of ['two-knolls-round', 'thimble-rise', 'oakum-dome', 'plover-down-walk'])
    for (const end of ['gpx', 'route.json'])
      copyFileSync(demo(`routes/${name}.${end}`), join(folder, `routes/${name}.${end}`));
  for (const path of [
    'marram-seniors.json',
    'walks/seniors-two-knolls.gpx',
    'walks/seniors-marram-ridge.gpx',
  ])
    copyFileSync(demo(`cohorts/${path}`), join(folder, `cohorts/${path}`));
  const season = { dates: [DAY], cohorts: [{ file: 'cohorts/marram-seniors.json', ownVehicles: true }] };
  writeFileSync(join(folder, 'season.json'), JSON.stringify(season));
  writeFileSync(join(folder, 'what-if.json'), JSON.stringify({ earliestStart: '05:00' }));
}

describe('the words that a tile’s licence asks for', () => {
  const folder = resolve(tempFolder());
  const at = (path: string) => join(folder, path);
  demoAsCopernicus(folder);

  describe('on the terminal', () => {
    const dem = ['--dem', at('dem')];
    const cohort = ['--cohort', at('cohorts/marram-seniors.json')];
    const routes = ['--routes', at('routes')];
    const date = ['--date', DAY];
    const round = ['--route', at('routes/two-knolls-round.gpx')];
    const plan = ['plan', ...cohort, ...round, ...routes, ...dem, ...date, '--today', '2026-07-02'];
    const both = (format: string, ...command: string[]) => [
      [...command, '--format', format],
      [...command, '--format', 'json'],
    ];

    it.each([
      ...both('table', 'measure', at('routes/two-knolls-round.gpx'), ...dem),
      ...both('table', 'rank', ...cohort, ...routes, ...dem, ...date),
      ...both('table', 'rank', ...cohort, ...routes, ...dem, ...date, '--what-if', at('what-if.json')),
      ...both('text', ...plan),
      ...['html', 'gpx'].map((format) => [...plan, '--format', format]),
      ...PAGE_KEYS.map((key) => [...plan, '--page', key]),
      ...both('text', 'ladder', ...cohort, ...routes, ...dem, ...date, '--target', 'Oakum Dome'),
      ...both('text', 'season', at('season.json'), ...routes, ...dem),
      ...both('text', 'shown', ...cohort, ...dem, ...date),
      ...both(
        'text',
        ...['after', ...cohort, ...round, ...dem, '--date', '2026-06-14'],
        ...['--track', at('cohorts/walks/seniors-two-knolls.gpx')],
      ),
      ...both('table', 'dem', at('dem')),
    ])('stand in what %s %s %s … prints', async (...command) => {
      const { status, out } = await krummholz(...command);
      expect(status).toBe(0);
      expect(credited(out), command.join(' ')).toBe(true);
    });
  });

  describe('from the service', () => {
    let app: App;
    let store: Store;
    let surface: Surface;
    let ids: Record<'id' | 'routeId' | 'outingId', string>;

    beforeAll(async () => {
      surface = await openSurface([at('dem')]);
      store = openStore(at('store.db'));
      const context = openContext({
        store,
        ground: { surface, design: DESIGN },
        nowMs: () => Date.UTC(2026, 6, 5),
      });
      const [id = ''] = await loadDemo(context, folder);
      const route = (await namedRoutes(context)).find(({ name }) => name === 'Two Knolls Round');
      const outings = await listOutings(context, id, { limit: 100, after: null });
      const recorded = outings.find(({ outing }) => outing.source === 'track');
      ids = { id, routeId: route?.id ?? '', outingId: recorded?.id ?? '' };
      app = await buildApp({ context, store, surface, publicUrl: 'http://127.0.0.1:8787' });
    }, 60_000);
    afterAll(async () => {
      await app.close();
      await store.close();
      await surface.close();
    });

    const json = (url: string, payload: object): InjectOptions => ({ method: 'POST', url, payload });
    const of = () => `/v1/cohorts/${ids.id}`;
    const fit = () => `${of()}/routes/${ids.routeId}`;
    const gpx = (path: string) => readFileSync(at(path));

    /** Operations of the API whose answers hold nothing that was measured. */
    const NO_FIGURES = [
      ...['addCohort', 'listCohorts', 'getCohort', 'putCohort', 'deleteCohort', 'eraseMember'],
      ...['deleteOuting', 'deleteRoute', 'isAlive', 'isReady', 'getOpenapi', 'getSettings'],
    ];
    /** How each of the others is asked. */
    const ASKED: Readonly<Record<string, () => InjectOptions>> = {
      addRoutes: () => ({
        ...{ method: 'POST', url: '/v1/routes' },
        ...{ headers: GPX, payload: gpx('routes/two-knolls-round.gpx') },
      }),
      listRoutes: () => ({ url: '/v1/routes' }),
      getRoute: () => ({ url: `/v1/routes/${ids.routeId}` }),
      patchRoute: () => ({
        ...{ method: 'PATCH', url: `/v1/routes/${ids.routeId}`, payload: { surface: 'rough' } },
        headers: { 'if-match': '*' },
      }),
      getProfile: () => ({ url: `/v1/routes/${ids.routeId}/profile` }),
      getRouteGpx: () => ({ url: `/v1/routes/${ids.routeId}.gpx` }),
      exportCohort: () => ({ url: `${of()}/export` }),
      addOuting: () => ({
        ...{ method: 'POST', url: `${of()}/outings?date=2026-06-14&routeId=${ids.routeId}` },
        ...{ headers: GPX, payload: gpx('cohorts/walks/seniors-two-knolls.gpx') },
      }),
      listOutings: () => ({ url: `${of()}/outings` }),
      getOuting: () => ({ url: `${of()}/outings/${ids.outingId}` }),
      makeSeasonBoard: () => json('/v1/season-board', { dates: [DAY], cohorts: [{ id: ids.id }] }),
      getShortlist: () => ({ url: `${of()}/shortlist?date=${DAY}` }),
      whatIf: () => json(`${of()}/shortlist?date=${DAY}`, { earliestStart: '05:00' }),
      getFit: () => ({ url: `${fit()}/fit?date=${DAY}` }),
      getShown: () => ({ url: `${of()}/shown?date=${DAY}` }),
      getTripPlan: () => ({ url: `${fit()}/trip-plan?date=${DAY}` }),
      getTrainingPlan: () => ({ url: `${fit()}/training-plan?date=${DAY}` }),
      getLadder: () => ({ url: `${of()}/ladder?target=${ids.routeId}&date=${DAY}` }),
    };
    const answer = async (asked: InjectOptions): Promise<string> => {
      const { statusCode, body } = await app.inject(asked);
      expect(statusCode, body).toBeLessThan(300);
      return body;
    };

    it('leave no operation of the API out', async () => {
      const { paths } = JSON.parse(await answer({ url: '/v1/openapi.json' })) as {
        paths: Record<string, Record<string, { operationId: string }>>;
      };
      const all = Object.values(paths).flatMap((methods) =>
        Object.values(methods).map(({ operationId }) => operationId),
      );
      expect([...Object.keys(ASKED), ...NO_FIGURES].sort()).toEqual(all.sort());
    });

    it.each(Object.entries(ASKED))('stand in the answer of %s', async (_, asked) => {
      expect(credited(await answer(asked()))).toBe(true);
    });

    it.each(['text/html', 'application/gpx+xml'])('stand in the plan as %s', async (accept) => {
      const url = `${fit()}/trip-plan?date=${DAY}`;
      expect(credited(await answer({ url, headers: { accept } }))).toBe(true);
    });

    it.each([
      ['the start', () => '/'],
      ['the shortlist', () => `/cohorts/${ids.id}?date=${DAY}`],
      ['the days', () => `/cohorts/${ids.id}/outings`],
      ['the training', () => `/cohorts/${ids.id}/training?date=${DAY}&route=${ids.routeId}`],
      ['a route for a cohort', () => `/cohorts/${ids.id}/routes/${ids.routeId}?date=${DAY}`],
      ['the plan', () => `/cohorts/${ids.id}/routes/${ids.routeId}/plan?date=${DAY}`],
      ['the sheets of the plan', () => `/cohorts/${ids.id}/routes/${ids.routeId}/plan/sheets?date=${DAY}`],
      ['the routes', () => '/routes'],
      ['the map', () => '/routes/map'],
      ['a route', () => `/routes/${ids.routeId}`],
    ])('stand on the page of %s', async (_, path) => {
      const headers = { accept: 'text/html' };
      expect(credited(await answer({ url: path(), headers }))).toBe(true);
    });

    it('stand with recorded days whose tiles are no longer there', async () => {
      const other = at('other');
      mkdirSync(other, { recursive: true });
      copyFileSync('data/demo/dem/corvanney-west.tif', join(other, 'invented.tif'));
      const bare = await openSurface([other]);
      const ground = { surface: bare, design: DESIGN };
      const context = openContext({ store, ground, nowMs: () => Date.UTC(2026, 6, 5) });
      const without = await buildApp({ context, store, surface: bare, publicUrl: 'http://127.0.0.1:8787' });
      const page = async (url: string) =>
        (await without.inject({ url, headers: { accept: 'text/html' } })).body;
      expect(credited(await page(`/cohorts/${ids.id}/outings`))).toBe(true);
      expect(credited(await page('/kept'))).toBe(false);
      await without.close();
      await bare.close();
    });
  });
});
