import { describe, expect, it } from 'vitest';
import { type Answer, addCohort, addRoute, ask, COHORT, eachService, JSON_TYPE } from './service.ts';

describe('conditional requests', () => {
  const service = eachService();

  const put = (id: string, body: object, headers: Record<string, string> = {}): Promise<Answer> =>
    ask(service.app, {
      method: 'PUT',
      url: `/v1/cohorts/${id}`,
      headers: { 'content-type': JSON_TYPE, ...headers },
      payload: JSON.stringify(body),
    });

  const patch = (id: string, body: object, headers: Record<string, string> = {}): Promise<Answer> =>
    ask(service.app, {
      method: 'PATCH',
      url: `/v1/routes/${id}`,
      headers: { 'content-type': 'application/merge-patch+json', ...headers },
      payload: JSON.stringify(body),
    });

  it('G1: changes nothing without If-Match', async () => {
    const cohort = await addCohort(service.app);
    const route = await addRoute(service.app);
    for (const answer of [await put(cohort.id, COHORT), await patch(route.id, {})]) {
      expect([answer.status, answer.json.code]).toEqual([428, 'precondition-required']);
    }
  });

  it('G2: lets one of two changes with one ETag through', async () => {
    const { id, etag } = await addCohort(service.app);
    const answers = await Promise.all([
      put(id, { ...COHORT, leaders: 3 }, { 'if-match': etag }),
      put(id, { ...COHORT, leaders: 4 }, { 'if-match': etag }),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412]);
    const route = await addRoute(service.app);
    const patches = await Promise.all([
      patch(route.id, { rockClass: '2' }, { 'if-match': route.etag }),
      patch(route.id, { rockClass: '3' }, { 'if-match': route.etag }),
    ]);
    expect(patches.map(({ status }) => status).sort()).toEqual([200, 412]);
  });

  it('G3: never matches a weak tag, nor an old one', async () => {
    const { id, etag } = await addCohort(service.app);
    expect((await put(id, COHORT, { 'if-match': `W/${etag}` })).json.code).toBe('precondition-failed');
    const changed = await put(id, COHORT, { 'if-match': `"other", ${etag}` });
    expect([changed.status, changed.headers.etag]).toEqual([200, `"${id}-2"`]);
    expect((await put(id, COHORT, { 'if-match': etag })).status).toBe(412);
    expect((await put(id, COHORT, { 'if-match': '*' })).status).toBe(200);
  });

  it('G4: answers 304 without a body to who has it already', async () => {
    const cohort = await addCohort(service.app);
    const route = await addRoute(service.app);
    const profile = await ask(service.app, { url: `/v1/routes/${route.id}/profile` });
    for (const [url, etag] of [
      [`/v1/cohorts/${cohort.id}`, cohort.etag],
      [`/v1/routes/${route.id}`, route.etag],
      [`/v1/routes/${route.id}/profile`, String(profile.headers.etag)],
    ] as const) {
      for (const tag of [etag, `W/${etag}`, `"x", ${etag}`, '*']) {
        const answer = await ask(service.app, { url, headers: { 'if-none-match': tag } });
        expect([answer.status, answer.text, answer.headers.etag]).toEqual([304, '', etag]);
        expect(answer.headers).toMatchObject({ 'cache-control': 'private, no-cache', vary: 'Accept' });
      }
      expect((await ask(service.app, { url, headers: { 'if-none-match': '"x-1"' } })).status).toBe(200);
    }
    expect(profile.headers.etag).not.toBe(route.etag);
  });

  it('holds a deletion to If-Match where it is sent', async () => {
    const { id, etag } = await addRoute(service.app);
    const url = `/v1/routes/${id}`;
    expect((await ask(service.app, { method: 'DELETE', url, headers: { 'if-match': '"x-1"' } })).status).toBe(
      412,
    );
    expect((await ask(service.app, { method: 'DELETE', url, headers: { 'if-match': etag } })).status).toBe(
      204,
    );
    expect((await ask(service.app, { method: 'DELETE', url })).status).toBe(404);
    const cohort = await addCohort(service.app);
    expect((await ask(service.app, { method: 'DELETE', url: `/v1/cohorts/${cohort.id}` })).status).toBe(204);
  });

  it('takes back a cohort as it gave it', async () => {
    const { id, etag } = await addCohort(service.app);
    const given = await ask(service.app, { url: `/v1/cohorts/${id}` });
    const changed = await put(id, { ...given.json, name: 'Other name' }, { 'if-match': etag });
    expect([changed.status, changed.json.name, changed.json.revision]).toEqual([200, 'Other name', 2]);
  });

  it('patches attributes by RFC 7396 and measures again', async () => {
    const { id, etag } = await addRoute(service.app);
    const first = await patch(
      id,
      { treelineM: 1500, trailhead: { roadClearance: 'high', roadKm: 4 } },
      { 'if-match': etag },
    );
    expect(first.status, first.text).toBe(200);
    expect(first.json.measures).toMatchObject({
      treelineM: 1500,
      treelineSource: 'route',
      aboveTreelineM: expect.any(Number),
    });
    const second = await patch(
      id,
      { treelineM: null, trailhead: { roadKm: null } },
      { 'if-match': String(first.headers.etag) },
    );
    expect(second.json.attributes).toEqual({ trailhead: { roadClearance: 'high' } });
    expect(second.json.measures).toMatchObject({ treelineM: null, treelineSource: 'unknown' });
    const bad = await patch(id, { treelinM: 1 }, { 'if-match': String(second.headers.etag) });
    expect([bad.status, bad.json.code, bad.json.errors[0]?.pointer]).toEqual([
      422,
      'bad-attribute',
      '/treelinM',
    ]);
  });
});
