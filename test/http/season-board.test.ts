import { describe, expect, it } from 'vitest';
import type { SeasonView } from '../../src/views/season-view.ts';
import { addCohort, addRoute, ask, eachService, expectRefused, sendJson, wayUp } from './service.ts';

const PATH = '/v1/season-board';
const NEVER = 'co_aaaaaaaaaaaaaaaaaaaaaa';

describe('POST /v1/season-board', () => {
  const service = eachService();

  const strong = {
    members: null,
    outings: [
      {
        date: '2026-07-01',
        distanceM: 20_000,
        gainM: 1400,
        movingMin: 420,
        maxElevationM: 1900,
        rockClass: '2',
      },
    ],
  };

  async function withClass(): Promise<string> {
    const { id } = await addRoute(service.app);
    const payload = JSON.stringify({ rockClass: '2', treelineM: 1950 });
    const headers = { 'if-match': '*', 'content-type': 'application/json' };
    await ask(service.app, { method: 'PATCH', url: `/v1/routes/${id}`, headers, payload });
    return id;
  }

  const viewOf = async (body: object): Promise<SeasonView> =>
    JSON.parse((await sendJson(service.app, PATH, body)).text) as SeasonView;

  it('gives stored cohorts their days, and names cohorts and routes by their ids', async () => {
    const routeId = await withClass();
    const first = await addCohort(service.app, { ...strong, name: 'First' });
    const second = await addCohort(service.app, { ...strong, name: 'Second' });
    const view = await viewOf({
      dates: ['2026-07-11', '2026-07-12'],
      cohorts: [{ id: first.id }, { id: second.id }],
      vehicles: [{ name: 'bus', seats: 12, clearance: 'any' }],
    });
    const parties = view.days.flatMap((day) => day.parties);
    expect(parties.map(({ cohort }) => cohort.id).sort()).toEqual([first.id, second.id].sort());
    expect(view.days.map((day) => day.parties.length)).toEqual([1, 1]);
    expect(parties[0]?.route.id).toBe(routeId);
  });

  it('stores nothing, but a day asked about keeps a cohort’s data', async () => {
    await withClass();
    const { id } = await addCohort(service.app, strong);
    const before = await service.store.cohorts.get(id);
    await viewOf({ dates: ['2026-07-11', '2027-06-12'], cohorts: [{ id }] });
    const after = await service.store.cohorts.get(id);
    expect(after).toEqual({ ...before, lastTripDate: '2027-06-12' });
  });

  it('answers other requests while it works', async () => {
    await withClass();
    const { id } = await addCohort(service.app, strong);
    let isDone = false;
    const board = viewOf({ dates: ['2026-07-11'], cohorts: [{ id }] }).finally(() => {
      isDone = true;
    });
    expect((await ask(service.app, { url: '/livez' })).status).toBe(200);
    expect(isDone).toBe(false);
    await board;
  });

  it('refuses what it cannot use, and says where', async () => {
    const { app } = service;
    const dates = ['2026-07-11'];
    const cohorts = [{ id: NEVER }];
    await expectRefused(app, await sendJson(app, PATH, { dates }), 422, 'bad-season');
    await expectRefused(app, await sendJson(app, PATH, { dates, cohorts, extra: 1 }), 422, 'bad-season');
    await expectRefused(app, await sendJson(app, PATH, { dates: ['never'], cohorts }), 422, 'bad-season');
    await expectRefused(app, await sendJson(app, PATH, { dates, cohorts }), 404, 'not-found');
    await expectRefused(
      app,
      await sendJson(app, `${PATH}?unit=us`, { dates, cohorts }),
      400,
      'unknown-parameter',
    );
  });

  it('refuses a limit for a place that no route has', async () => {
    await addRoute(service.app, wayUp());
    const { id } = await addCohort(service.app);
    const body = { dates: ['2026-07-11'], cohorts: [{ id }], limits: [{ trailhead: 'x', partiesPerDay: 1 }] };
    const answer = await sendJson(service.app, PATH, body);
    expect(answer).toMatchObject({ status: 422, json: { code: 'bad-season' } });
    expect(answer.json.errors[0]?.pointer).toBe('/limits/0/trailhead');
  });
});
