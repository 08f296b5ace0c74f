import { describe, expect, it } from 'vitest';
import { addCohort, addRoute, ask, eachService, type Service, sendJson } from './service.ts';

interface Moved {
  readonly date: string;
  readonly method: { readonly settings: string };
  readonly routes: readonly { readonly name: string; readonly verdict: string; readonly rank: number }[];
  readonly moved: readonly {
    readonly id: string;
    readonly name: string;
    readonly from: { readonly verdict: string };
    readonly to: { readonly verdict: string };
    readonly criteria: readonly { readonly name: string; readonly from: string; readonly to: string }[];
  }[];
}

const DATE = '2026-07-11';
const STATED = { rockClass: '1', treelineM: 2500 };

describe('the shortlist asked with changes', () => {
  const service = eachService();

  async function asked(of: Service, cohortId: string, changes: unknown, query = `date=${DATE}`) {
    const answer = await sendJson(of.app, `/v1/cohorts/${cohortId}/shortlist?${query}`, changes);
    return { status: answer.status, code: answer.json.code, json: JSON.parse(answer.text) as Moved, answer };
  }

  async function aRoute(): Promise<string> {
    const { id } = await addRoute(service.app);
    await ask(service.app, {
      method: 'PATCH',
      url: `/v1/routes/${id}`,
      headers: { 'if-match': '*', 'content-type': 'application/json' },
      payload: JSON.stringify(STATED),
    });
    return id;
  }

  it('says what moved with an outing more, and why', async () => {
    const routeId = await aRoute();
    const { id } = await addCohort(service.app, { comfortClass: '2', members: null, going: null });
    const outing = { date: '2026-07-04', distanceM: 12_000, gainM: 1000, movingMin: 400, rockClass: '2' };
    const { status, json } = await asked(service, id, { outings: [outing] });
    expect(status).toBe(200);
    expect(json.moved).toHaveLength(1);
    expect(json.moved[0]).toMatchObject({
      id: routeId,
      from: { verdict: 'incomplete' },
      to: { verdict: 'fits' },
    });
    expect(json.moved[0]?.criteria).toContainEqual({ name: 'distance', from: 'incomplete', to: 'fits' });
    expect(json.routes[0]).toMatchObject({ rank: 1, verdict: 'fits' });
  });

  it('stores nothing of it', async () => {
    await aRoute();
    const { id } = await addCohort(service.app, {});
    const before = await ask(service.app, { url: `/v1/cohorts/${id}/export` });
    await asked(service, id, {
      participants: 3,
      date: '2027-07-18',
      outings: [{ date: '2026-07-04', distanceM: 9000, gainM: 700 }],
    });
    const after = await ask(service.app, { url: `/v1/cohorts/${id}/export` });
    expect(after.text).toBe(before.text);
  });

  it('asks about another date, and names weights that came with the request', async () => {
    await aRoute();
    const { id } = await addCohort(service.app, {});
    const other = await asked(service, id, { date: '2026-07-18' });
    expect(other.json.date).toBe('2026-07-18');
    expect(other.json.method.settings).not.toContain('request');
    const weighed = await asked(service, id, { weights: { aim: 0 } });
    expect(weighed.json.method.settings).toContain('weights of the request');
  });

  it('counts the people, vehicles and limits that it is given', async () => {
    await aRoute();
    const { id } = await addCohort(service.app, {});
    const { json } = await asked(service, id, { vehicles: [{ seats: 2, clearance: 'any' }] });
    expect(json.routes[0]?.verdict).toBe('ruledOut');
  });

  it('refuses what it does not know, with the place and what to write', async () => {
    const { id } = await addCohort(service.app, {});
    for (const [changes, pointer] of [
      [{ dat: '2026-07-18' }, '/dat'],
      [{ weights: { storms: 2 } }, '/weights/storms'],
      [{ weights: { aim: -1 } }, '/weights/aim'],
      [{ going: ['nobody'] }, '/going/0'],
      [{ outings: [{ date: '2026-07-04', track: 'walk.gpx' }] }, undefined],
      [[], ''],
    ] as const) {
      const { status, code, answer } = await asked(service, id, changes);
      expect([status, code, answer.json.errors[0]?.pointer]).toEqual([422, 'bad-what-if', pointer]);
    }
    expect((await asked(service, id, { date: '2026-02-30' })).code).toBe('bad-date');
    expect((await asked(service, id, {}, 'date=soon')).code).toBe('bad-date');
    expect((await sendJson(service.app, `/v1/cohorts/${id}/shortlist`, {})).status).toBe(400);
  });

  it('knows a route the moment it is stored, changed or deleted', async () => {
    const routeId = await aRoute();
    const { id } = await addCohort(service.app, {});
    const names = async () => (await asked(service, id, {})).json.routes.map(({ name }) => name);
    expect(await names()).toEqual(['South Way']);
    await ask(service.app, {
      method: 'PATCH',
      url: `/v1/routes/${routeId}`,
      headers: { 'if-match': '*', 'content-type': 'application/json' },
      payload: JSON.stringify({ name: 'Other Way' }),
    });
    expect(await names()).toEqual(['Other Way']);
    await ask(service.app, { method: 'DELETE', url: `/v1/routes/${routeId}`, headers: { 'if-match': '*' } });
    expect(await names()).toEqual([]);
  });
});
