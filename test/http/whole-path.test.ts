import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openContext } from '../../src/app/context.ts';
import { DESIGN } from '../../src/design.ts';
import { buildApp } from '../../src/service.ts';
import { openStore } from '../../src/storage/store.ts';
import {
  type Answer,
  addCohort,
  addRoute,
  ask,
  eachService,
  GPX,
  NOW_MS,
  PUBLIC_URL,
  post,
  sendJson,
  walkWithClock,
  wayUp,
} from './service.ts';

const HAND = {
  date: '2026-07-04',
  distanceM: 9200,
  gainM: 810,
  movingMin: 240,
  rockClass: '2',
  members: ['m1', 'm2', 'zq7x'],
};

describe('the whole way, from files to a fit', () => {
  const service = eachService();

  const recordWalk = (id: string, query: string): Promise<Answer> =>
    post(service.app, `/v1/cohorts/${id}/outings${query}`, walkWithClock(), GPX);

  it('ranks sent routes for a cohort with hand-entered and recorded outings, and erases it all', async () => {
    const { app } = service;
    const attributes = { rockClass: '2', treelineM: 1600 };
    const first = await addRoute(app, wayUp('Long Way'));
    const short = await addRoute(app, wayUp('Short Way', 0.002));
    for (const { id, etag } of [first, short]) {
      const headers = { 'if-match': etag, 'content-type': 'application/merge-patch+json' };
      const answer = await ask(app, {
        method: 'PATCH',
        url: `/v1/routes/${id}`,
        headers,
        payload: JSON.stringify(attributes),
      });
      expect(answer.status, answer.text).toBe(200);
    }
    const profile = await ask(app, { url: `/v1/routes/${first.id}/profile` });
    expect(profile.json.profile.length).toBeGreaterThan(100);

    const { id } = await addCohort(app);
    const byHand = await sendJson(app, `/v1/cohorts/${id}/outings`, HAND);
    expect(byHand.status, byHand.text).toBe(201);
    const recorded = await recordWalk(id, '?date=2026-06-20&rockClass=1&members=m1,zq7x');
    expect(recorded.status, recorded.text).toBe(201);
    expect(recorded.json).toMatchObject({ source: 'track', movingMin: 96, members: ['m1', 'zq7x'] });
    expect(recorded.headers.location).toBe(`${PUBLIC_URL}/v1/cohorts/${id}/outings/${recorded.json.id}`);

    const shortlist = await ask(app, { url: `/v1/cohorts/${id}/shortlist?date=2026-07-11` });
    expect(shortlist.status, shortlist.text).toBe(200);
    expect(shortlist.json.routes.map((route) => route.id).sort()).toEqual([first.id, short.id].sort());
    expect(shortlist.json.routes.map(({ verdict }) => verdict)).toEqual(['fits', 'fits']);

    const fit = await ask(app, { url: `/v1/cohorts/${id}/routes/${first.id}/fit?date=2026-07-11&units=us` });
    expect(fit.json.route).toMatchObject({ id: first.id, rank: null, verdict: 'fits' });
    expect(fit.text).toContain(' mi');

    for (const { id: outingId } of (await ask(app, { url: `/v1/cohorts/${id}/outings` })).json.outings) {
      const gone = await ask(app, { method: 'DELETE', url: `/v1/cohorts/${id}/outings/${outingId}` });
      expect(gone.status).toBe(204);
    }
    const emptied = await ask(app, { url: `/v1/cohorts/${id}/shortlist?date=2026-07-11` });
    expect(emptied.json.routes.map(({ verdict }) => verdict)).toEqual(['incomplete', 'incomplete']);
    await ask(app, { method: 'DELETE', url: `/v1/cohorts/${id}` });
    await ask(app, { method: 'DELETE', url: `/v1/routes/${first.id}` });
    expect((await ask(app, { url: '/v1/cohorts' })).json.cohorts).toEqual([]);
    expect((await ask(app, { url: '/v1/routes' })).json.routes.map((route) => route.id)).toEqual([short.id]);
  });

  it('never names a member in a shortlist or a fit', async () => {
    const { app } = service;
    const route = await addRoute(app);
    const { id } = await addCohort(app, { going: ['m1', 'zq7x'] });
    await sendJson(app, `/v1/cohorts/${id}/outings`, { ...HAND, members: ['m1'] });
    for (const path of ['shortlist?', `routes/${route.id}/fit?`]) {
      const answer = await ask(app, { url: `/v1/cohorts/${id}/${path}date=2026-07-11` });
      expect(answer.status).toBe(200);
      expect(answer.text).toContain('incomplete');
      expect(answer.text).not.toMatch(/zq7x|"m1"|\bm1\b/);
    }
  });

  it('erases a cohort so that no label is left in the files of the store', async () => {
    const { app, databaseFile } = service;
    const { id } = await addCohort(app);
    await sendJson(app, `/v1/cohorts/${id}/outings`, HAND);
    const holds = (): boolean =>
      ['', '-wal'].some((end) => readFileSync(`${databaseFile}${end}`).includes('zq7x'));
    expect(holds()).toBe(true);
    expect((await ask(app, { method: 'DELETE', url: `/v1/cohorts/${id}` })).status).toBe(204);
    expect(holds()).toBe(false);
  });

  it('says what a recorded outing needs beside its file', async () => {
    const { app } = service;
    const { id } = await addCohort(app);
    for (const [query, status, code] of [
      ['', 400, 'bad-date'],
      ['?date=2026-02-30', 400, 'bad-date'],
      ['?date=2026-06-20&members=m9', 422, 'bad-outing'],
      ['?date=2026-06-20&members=', 422, 'bad-outing'],
      ['?date=2026-06-20&rockClass=hard', 422, 'bad-outing'],
      ['?day=2026-06-20', 400, 'unknown-parameter'],
    ] as const) {
      const answer = await recordWalk(id, query);
      expect([answer.status, answer.json.code], query).toEqual([status, code]);
    }
    const path = `/v1/cohorts/${id}/outings`;
    for (const body of ['', '<gpx/>', '{}']) {
      const answer = await post(app, `${path}?date=2026-06-20`, body, GPX);
      expect(answer.status, body).toBeGreaterThanOrEqual(400);
      expect(answer.status, body).toBeLessThan(500);
    }
    const mixed = await sendJson(app, `${path}?date=2026-06-20`, HAND);
    expect([mixed.status, mixed.json.code]).toEqual([400, 'bad-request']);
    for (const outing of [
      {},
      { date: '2026-06-20' },
      { ...HAND, track: 'x.gpx' },
      { ...HAND, members: ['m9'] },
      { ...HAND, id: 'ou_1' },
    ]) {
      const answer = await sendJson(app, path, outing);
      expect([answer.status, answer.json.code], JSON.stringify(outing)).toEqual([422, 'bad-outing']);
    }
    expect((await ask(app, { url: path })).json.outings).toEqual([]);
  });

  it('keeps what it acknowledged over a restart, cursors too', async () => {
    const { app, databaseFile, surface, store } = service;
    const ids = [(await addRoute(app, wayUp('A'))).id, (await addRoute(app, wayUp('B', 0.001))).id];
    const cohort = await addCohort(app);
    const page = await ask(app, { url: '/v1/routes?limit=1' });
    const next = /(\/v1[^>]*)/.exec(String(page.headers.link))?.[1] ?? '';
    await app.close();
    await store.close();

    const again = openStore(databaseFile);
    const context = openContext({ store: again, ground: { surface, design: DESIGN }, nowMs: () => NOW_MS });
    const restarted = await buildApp({ context, store: again, surface, publicUrl: PUBLIC_URL });
    expect((await ask(restarted, { url: next })).json.routes.map(({ id }) => id)).toEqual([ids[1]]);
    const known = await ask(restarted, {
      url: `/v1/cohorts/${cohort.id}`,
      headers: { 'if-none-match': cohort.etag },
    });
    expect(known.status).toBe(304);
    await restarted.close();
    await again.close();
  });
});
