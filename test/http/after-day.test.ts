import { describe, expect, it } from 'vitest';
import { OnDisk } from '../support/on-disk.ts';
import { addCohort, addRoute, ask, eachService, GPX, post, sendJson, walkWithClock } from './service.ts';

const HAND = { date: '2026-06-13', distanceM: 9200, gainM: 810, movingMin: 300 };
const TOLD = { turnedBecause: 'Thundrous clouds', nearMisses: ['Quartzfall near the ford', 'late start'] };

describe('after the day', () => {
  const service = eachService();
  const outingsOf = (id: string) => `/v1/cohorts/${id}/outings`;
  const walk = (id: string, query: Record<string, string> = {}, body = walkWithClock()) =>
    post(service.app, `${outingsOf(id)}?${new URLSearchParams({ date: '2026-06-20', ...query })}`, body, GPX);

  it('what is told comes with JSON and with a GPX, is given back, exported and erased', async () => {
    const { app, databaseFile } = service;
    const { id } = await addCohort(app);
    const hand = await sendJson(app, outingsOf(id), { ...HAND, ...TOLD });
    const track = await walk(id, {
      turnedBecause: TOLD.turnedBecause,
      nearMisses: `${TOLD.nearMisses.join('\n')}\n`,
    });
    for (const answer of [hand, track]) {
      expect(answer.status, answer.text).toBe(201);
      expect(answer.json).toMatchObject({ ...TOLD, planned: null });
      const again = await ask(app, { url: `${outingsOf(id)}/${answer.json.id}` });
      expect(again.json).toEqual(answer.json);
    }
    const exported = JSON.parse((await ask(app, { url: `/v1/cohorts/${id}/export` })).text);
    expect(exported.outings).toMatchObject([TOLD, TOLD]);
    expect(new OnDisk(databaseFile).holds('Quartzfall')).toBe(true);
    const gone = await ask(app, {
      method: 'DELETE',
      url: `/v1/cohorts/${id}`,
      headers: { 'if-match': '*' },
    });
    expect(gone.status, gone.text).toBe(204);
    for (const text of ['Quartzfall', 'Thundrous']) {
      expect(new OnDisk(databaseFile).holds(text)).toBe(false);
    }
  });

  it('a day told with the cohort is kept too, and one of which nothing is told says nothing', async () => {
    const { app } = service;
    const { id } = await addCohort(app, { outings: [{ ...HAND, ...TOLD }, HAND] });
    const { outings } = JSON.parse((await ask(app, { url: outingsOf(id) })).text);
    expect(outings).toMatchObject([TOLD, { turnedBecause: null, nearMisses: [], planned: null }]);
  });

  it('a text that names a label is refused', async () => {
    const { id } = await addCohort(service.app);
    const answer = await walk(id, { nearMisses: 'fine\nzq7x fell behind' });
    expect([answer.status, answer.json.code]).toEqual([422, 'bad-outing']);
    expect((await ask(service.app, { url: outingsOf(id) })).text).toBe('{"outings":[]}');
  });

  it('a recording is set beside the plan of its route, and no place of it is kept', async () => {
    const { app, databaseFile } = service;
    const { id } = await addCohort(app, { home: null, outings: [HAND] });
    const { id: routeId } = await addRoute(app);
    const answer = await walk(id, { routeId });
    expect(answer.status, answer.text).toBe(201);
    const { planned } = JSON.parse(answer.text);
    expect(planned).toMatchObject({
      routeId,
      isOnRoute: true,
      turnedBack: false,
      highestReached: { kind: 'high' },
      isWholeRoute: true,
    });
    const passed = planned.checkpoints.map((one: { passed: string }) => one.passed);
    expect(passed).toEqual([...passed].sort());
    // Recorded at a point a minute from 08:00 UTC: 48 min up.
    const high = planned.checkpoints.find(({ kind }: { kind: string }) => kind === 'high');
    expect(Math.abs(Date.parse(high.passed) - Date.UTC(2026, 5, 20, 8, 48))).toBeLessThan(2 * 60_000);
    const exported = JSON.parse((await ask(app, { url: `/v1/cohorts/${id}/export` })).text);
    expect(exported.outings.at(-1).planned.routeId).toBe(routeId);
    expect(JSON.stringify(exported.outings)).not.toMatch(/lonDeg|latDeg|"lon"|"lat"/);
    expect(new OnDisk(databaseFile).holds('"planned"')).toBe(true);
  });

  it('the plan of a day knows nothing of outings on it or later', async () => {
    const { app } = service;
    const { id: routeId } = await addRoute(app);
    const plannedOf = async (outings: readonly object[]) => {
      const { id } = await addCohort(app, { home: null, outings });
      return JSON.parse((await walk(id, { routeId })).text).planned;
    };
    const later = { ...HAND, date: '2026-06-25', movingMin: 700 };
    const same = { ...HAND, date: '2026-06-20', movingMin: 700 };
    expect(await plannedOf([HAND, later, same])).toEqual(await plannedOf([HAND]));
  });

  it.each([['rt_AAAAAAAAAAAAAAAAAAAAAA'], ['x']])('knows no route %s to compare with', async (routeId) => {
    const { id } = await addCohort(service.app);
    const answer = await walk(id, { routeId });
    expect([answer.status, answer.json.code]).toEqual([404, 'not-found']);
  });

  it('leaders see the record of a season, and the shortlist does not show it', async () => {
    const { app } = service;
    const { id } = await addCohort(app, { outings: [HAND, { ...HAND, date: '2026-06-27' }] });
    const { record } = JSON.parse((await ask(app, { url: `/v1/cohorts/${id}/shown?date=2026-07-11` })).text);
    expect(record.rows).toMatchObject([
      { date: '2026-06-13', outingsBefore: 0, tookMin: 300 },
      { date: '2026-06-27', outingsBefore: 1, tookMin: 300 },
    ]);
    expect(record).toMatchObject({ n: 2, coverage: { low: expect.any(Number) } });
    expect(record.text).toContain('2 days say little');
    const shortlist = await ask(app, { url: `/v1/cohorts/${id}/shortlist?date=2026-07-11` });
    expect(shortlist.text).not.toContain('say little');
  });
});
