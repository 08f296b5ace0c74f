import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import type { KeptOuting } from '../../src/storage/outings.ts';
import { notesView } from '../../src/text/notes.ts';
import { OnDisk } from '../support/on-disk.ts';
import {
  type Answer,
  addCohort,
  addRoute,
  ask,
  eachService,
  GPX,
  post,
  sendJson,
  walkWithClock,
} from './service.ts';

const HAND = { date: '2026-07-04', distanceM: 9200, gainM: 810, movingMin: 240, members: ['m1', 'zq7x'] };

describe('the data of a cohort', () => {
  const service = eachService();

  const erase = (id: string, label: string): Promise<Answer> =>
    ask(service.app, { method: 'DELETE', url: `/v1/cohorts/${id}/members/${label}` });

  it('tells when it is erased, and that a later trip moves the day', async () => {
    const { app } = service;
    const { id } = await addCohort(app);
    const eraseAfter = async (url: string): Promise<unknown> =>
      (JSON.parse((await ask(app, { url })).text) as { eraseAfter: unknown }).eraseAfter;
    await ask(app, { url: `/v1/cohorts/${id}/shortlist?date=2027-01-10` });
    expect(await eraseAfter(`/v1/cohorts/${id}`)).toBe('2027-04-10');
  });

  it('lets one label be erased, once', async () => {
    const { app, databaseFile } = service;
    const { id, etag } = await addCohort(app);
    const alone = await sendJson(app, `/v1/cohorts/${id}/outings`, { ...HAND, members: ['zq7x'] });
    const shared = await sendJson(app, `/v1/cohorts/${id}/outings`, HAND);
    expect([alone.status, shared.status]).toEqual([201, 201]);
    const answer = await erase(id, 'zq7x');
    expect([answer.status, answer.text]).toEqual([204, '']);
    expect(new OnDisk(databaseFile).holds('zq7x')).toBe(false);
    expect((await ask(app, { url: `/v1/cohorts/${id}` })).json.members).toEqual(['m1', 'm2']);
    const { outings } = (await ask(app, { url: `/v1/cohorts/${id}/outings` })).json;
    expect(outings.map((outing) => [outing.id, outing.members])).toEqual([[shared.json.id, ['m1']]]);
    // Who still holds the older cohort cannot put the label back unawares.
    const headers = { 'content-type': 'application/json', 'if-match': etag };
    const put = await ask(app, { method: 'PUT', url: `/v1/cohorts/${id}`, headers, payload: '{}' });
    expect(put.status).toBe(412);
    expect([(await erase(id, 'zq7x')).status, (await erase(id, 'zq7x')).json.code]).toEqual([
      404,
      'not-found',
    ]);
  });

  it.each(['m9', 'M1', 'a-label-too-long', '%6d%20', '..%2f', '%2e%2e'])(
    'knows no label %s',
    async (label) => {
      const { id } = await addCohort(service.app);
      const answer = await erase(id, label);
      expect([answer.status, answer.json.code]).toEqual([404, 'not-found']);
      expect((await ask(service.app, { url: `/v1/cohorts/${id}` })).json.revision).toBe(1);
    },
  );

  it('knows no label of another cohort, or of none', async () => {
    const { id } = await addCohort(service.app, { members: ['a1'] });
    await addCohort(service.app, { members: ['b1'] });
    expect((await erase(id, 'b1')).status).toBe(404);
    expect((await erase('co_AAAAAAAAAAAAAAAAAAAAAA', 'b1')).status).toBe(404);
  });

  it('is exported whole: every field of every row that is stored of it, and of no other', async () => {
    const { app, databaseFile } = service;
    const { id } = await addCohort(app, { going: ['m1'], outings: [{ ...HAND, members: null }] });
    const other = await addCohort(app, {
      name: 'Other Group',
      members: ['other1'],
      outings: [{ ...HAND, members: null }],
    });
    await sendJson(app, `/v1/cohorts/${other.id}/outings`, { ...HAND, members: ['other1'] });
    const route = await addRoute(app);
    const walk = `/v1/cohorts/${id}/outings?date=2026-06-20&rockClass=1&members=m1,zq7x`;
    expect((await post(app, walk, walkWithClock(), GPX)).status).toBe(201);
    expect((await sendJson(app, `/v1/cohorts/${id}/outings`, HAND)).status).toBe(201);

    const answer = await ask(app, { url: `/v1/cohorts/${id}/export` });
    expect(answer.status).toBe(200);
    const exported = JSON.parse(answer.text) as {
      readonly cohort: Readonly<Record<string, unknown>>;
      readonly outings: readonly Readonly<Record<string, unknown>>[];
    };
    const raw = new Database(databaseFile, { readonly: true });
    const iso = (ms: unknown): string => new Date(Number(ms)).toISOString();
    const row = raw.prepare('select * from cohorts where id = ?').get(id) as Record<string, unknown>;
    const { createdAtMs, updatedAtMs, cohort, ...columns } = row;
    expect(exported.cohort).toEqual({
      ...columns,
      ...JSON.parse(String(cohort)),
      createdAt: iso(createdAtMs),
      updatedAt: iso(updatedAtMs),
      eraseAfter: expect.stringMatching(/^\d{4}-\d{2}-\d{2}$/),
    });
    const rows = raw
      .prepare('select * from outings where cohortId = ? order by createdAtMs')
      .all(id) as Record<string, unknown>[];
    raw.close();
    expect(rows).toHaveLength(3);
    expect(exported.outings).toEqual(
      rows.map((one) => {
        const { notes, ...outing } = JSON.parse(String(one.outing)) as KeptOuting;
        // Notes are stored as values and sent in words.
        return { id: one.id, createdAt: iso(one.createdAtMs), ...outing, notes: notesView(notes) };
      }),
    );
    for (const foreign of [other.id, route.id, 'Other Group', 'other1']) {
      expect(answer.text).not.toContain(foreign);
    }
  });

  it('is not exported under an id that is none', async () => {
    for (const id of ['co_AAAAAAAAAAAAAAAAAAAAAA', 'x']) {
      const answer = await ask(service.app, { url: `/v1/cohorts/${id}/export` });
      expect([answer.status, answer.json.code]).toEqual([404, 'not-found']);
    }
  });
});
