import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openContext } from '../../src/app/context.ts';
import { getCohort, addCohort as storeCohort } from '../../src/app/groups.ts';
import { MOST_KNOWN, nearestTo, trainingFor, tripPlan } from '../../src/app/plans.ts';
import { addRoutes, getRoute } from '../../src/app/routes.ts';
import { DESIGN } from '../../src/design.ts';
import type { TripPlanView } from '../../src/document/trip-plan-view.ts';
import { fileStem } from '../../src/http/route-gpx.ts';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import { openStore } from '../../src/storage/store.ts';
import type { TrainingPlanView } from '../../src/views/training-view.ts';
import { gpx, seg, trk, trkpt } from '../ingest/samples.ts';
import { tempFolder } from '../support/temp-folder.ts';
import { type Answer, addCohort, addRoute, ask, COHORT, eachService, GPX, NOW_MS, wayUp } from './service.ts';

const DATE = '2026-07-18';
/** Long and high enough for the whole way, walked by everyone. */
const SHOWN = { date: '2026-07-01', distanceM: 9000, gainM: 1500, movingMin: 300, rockClass: '1' };
const HTML = 'text/html';
const AS_BROWSERS_ASK = 'text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8';

/** The lower part of the way up. */
const lowerWay = (name: string, shiftLon = 0): string =>
  gpx(
    trk(
      `<name>${name}</name>${seg(
        Array.from({ length: 10 }, (_, i) => trkpt((46.08 + i * 0.0008).toFixed(4), -30.2 + shiftLon)).join(
          '',
        ),
      )}`,
    ),
  );

describe('the trip plan over HTTP', () => {
  const service = eachService();
  const folder = tempFolder();

  /** A route with its class, its treeline and its trailhead, and a cohort that can walk it. */
  async function planned(cohort: object = { outings: [SHOWN] }) {
    const { app } = service;
    const { id: routeId } = await addRoute(app);
    await state(routeId, { rockClass: '1', treelineM: 1500, surface: 'trail' });
    const { id } = await addCohort(app, cohort);
    return { id, routeId, path: `/v1/cohorts/${id}/routes/${routeId}/trip-plan` };
  }

  async function state(routeId: string, attributes: object): Promise<void> {
    const answer = await ask(service.app, {
      method: 'PATCH',
      url: `/v1/routes/${routeId}`,
      headers: { 'if-match': '*', 'content-type': 'application/json' },
      payload: JSON.stringify(attributes),
    });
    expect(answer.status, answer.text).toBe(200);
  }

  const get = (path: string, query: Record<string, string> = {}, accept?: string): Promise<Answer> =>
    ask(service.app, {
      url: `${path}?${new URLSearchParams({ date: DATE, ...query })}`,
      ...(accept === undefined ? {} : { headers: { accept } }),
    });

  async function planOf(path: string, query: Record<string, string> = {}): Promise<TripPlanView> {
    const answer = await get(path, query);
    expect(answer.status, answer.text).toBe(200);
    return JSON.parse(answer.text) as TripPlanView;
  }

  it('is JSON with the ids of the store, and the numbers that the fit has', async () => {
    const { id, routeId, path } = await planned();
    const answer = await get(path);
    expect(answer.headers['content-type']).toContain('application/json');
    expect(answer.headers.vary).toContain('Accept');
    const plan = JSON.parse(answer.text);
    expect(plan.cohort).toEqual({ id, name: 'Plover Juniors' });
    const fit = await get(`/v1/cohorts/${id}/routes/${routeId}/fit`);
    expect(plan.fit).toEqual(JSON.parse(fit.text).route);
    expect(plan.timeline[0]).toMatchObject({ kind: 'trailhead', at: { p50: plan.stormWindow.start } });
    expect(plan.cutOffTimes.length).toBeGreaterThan(0);
    expect(plan.retreatTimes.length).toBeGreaterThan(0);
  });

  it.each([
    [undefined, 'application/json'],
    ['', 'application/json'],
    ['*/*', 'application/json'],
    ['application/*', 'application/json'],
    ['application/json, text/html;q=0.9', 'application/json'],
    [AS_BROWSERS_ASK, HTML],
    ['text/html, */*', HTML],
    ['text/*', HTML],
    [GPX, GPX],
    ['application/gpx+xml, application/json;q=0.5', GPX],
  ])('Accept %s gives %s', async (accept, type) => {
    const { path } = await planned();
    const answer = await get(path, {}, accept);
    expect(answer.status).toBe(200);
    expect(String(answer.headers['content-type']).split(';')[0]).toBe(type);
    expect(answer.headers.vary).toContain('Accept');
  });

  it('an Accept that takes none of the three is refused by naming them', async () => {
    const { path } = await planned();
    const answer = await get(path, {}, 'application/pdf, text/html;q=0');
    expect([answer.status, answer.json.code]).toEqual([406, 'not-acceptable']);
    for (const type of ['application/json', HTML, GPX]) expect(answer.json.detail).toContain(type);
  });

  it('as a page it lets a browser take its own style and nothing else', async () => {
    const { path } = await planned();
    const { text, headers } = await get(path, {}, AS_BROWSERS_ASK);
    expect(headers['content-type']).toBe('text/html; charset=utf-8');
    expect(text).toMatch(/^<!doctype html>/);
    expect(text).toContain('South Way');
    const policy = String(headers['content-security-policy']);
    const styles = [...text.matchAll(/<style[^>]*>([\s\S]*?)<\/style>/g)].map(([, style = '']) => style);
    const hashes = styles.map((style) => `'sha256-${createHash('sha256').update(style).digest('base64')}'`);
    expect(styles.length).toBeGreaterThan(0);
    expect(policy.split(';')).toEqual([
      "default-src 'none'",
      `style-src ${hashes.join(' ')}`,
      "base-uri 'none'",
      "form-action 'none'",
      "frame-ancestors 'none'",
    ]);
    // The policy would keep these from working.
    expect(text).not.toMatch(/<(script|link|img|iframe)\b|\sstyle=|\son[a-z]+=/i);
  });

  it('as GPX it is the line of the route with its checkpoints, to be saved under a plain name', async () => {
    const { path, routeId } = await planned();
    await state(routeId, { name: 'Größe "a"; ../../b\u202e' });
    const answer = await get(path, {}, GPX);
    expect(answer.headers['content-disposition']).toBe('attachment; filename="Gro-e-a-b.gpx"');
    const [track] = readTracks(new TextEncoder().encode(answer.text), { mediaType: GPX });
    const [up, back] = (await getRoute(service.context, routeId)).route.line;
    // The way back that was added begins where the way up ends.
    const line = [...(up ?? []), ...(back ?? []).slice(1)];
    expect(track?.segments.flat().map(({ lonDeg, latDeg }) => [lonDeg, latDeg])).toEqual(line);
    expect(answer.text).toContain('<name>highest point</name>');
    expect((await ask(service.app, { url: `/v1/routes/${routeId}.gpx` })).text).toBe(answer.text);
  });

  it('holds no label of a member in any form, whoever limits the group', async () => {
    const short = { ...SHOWN, distanceM: 2000, gainM: 200, movingMin: 60, members: ['zq7x'] };
    const long = { ...SHOWN, members: ['m1', 'm2'] };
    const { id, routeId, path } = await planned({ outings: [short, long], altitudeHistory: 'mild' });
    const shown = await get(`/v1/cohorts/${id}/shown`);
    expect(shown.text).toContain('zq7x');
    const answers = [
      await get(path),
      await get(path, {}, HTML),
      await get(path, {}, GPX),
      await get(`/v1/cohorts/${id}/routes/${routeId}/training-plan`),
    ];
    for (const { status, text } of answers) {
      expect(status, text).toBe(200);
      expect(text).not.toMatch(/\b(m1|m2|zq7x)\b/i);
    }
  });

  it('takes the start, the spare date, the weather and the units that are given', async () => {
    const { path } = await planned();
    const usual = await planOf(path);
    expect(usual.supplies?.warm).toBeNull();
    const plan = await planOf(path, { start: '07:10', spareDate: '2026-08-01', warm: 'true' });
    expect(plan.stormWindow?.start).toBe('2026-07-18T07:10:00-02:00');
    expect(plan.spareDate).toEqual({ date: '2026-08-01', isSuggestion: false });
    expect(plan.supplies?.warm).toBe(true);
    expect((await planOf(path, { warm: 'false' })).supplies?.warm).toBe(false);
    expect(JSON.stringify((await planOf(path, { units: 'us' })).pages)).toMatch(/\d ft\b/);
  });

  it('trains from the day of the clock, or from the day given', async () => {
    const { path } = await planned();
    expect((await planOf(path)).trainingPlan.today).toBe(new Date(NOW_MS).toISOString().slice(0, 10));
    expect((await planOf(path, { today: '2026-06-01' })).trainingPlan.today).toBe('2026-06-01');
  });

  it('names a lower route of those stored that fits', async () => {
    const { path } = await planned();
    expect((await planOf(path)).lowerChoice).toBeNull();
    const { id: lower } = await addRoute(service.app, lowerWay('Lower Way'));
    await state(lower, { rockClass: '1', treelineM: 1500, surface: 'trail' });
    expect((await planOf(path)).lowerChoice).toMatchObject({ name: 'Lower Way', verdict: 'fits' });
  });

  it('is there, with nulls for what cannot be timed, where no heights are known', async () => {
    const { app } = service;
    const { id } = await addCohort(app);
    const { id: routeId } = await addRoute(app, wayUp('Outside the tiles').replaceAll('-30.2', '-29.2'));
    const path = `/v1/cohorts/${id}/routes/${routeId}/trip-plan`;
    expect(await planOf(path)).toMatchObject({
      timeline: null,
      cutOffTimes: null,
      stormWindow: null,
      trainingPlan: { state: 'unknown' },
    });
    expect((await get(path, {}, HTML)).status).toBe(200);
    expect((await get(path, {}, GPX)).text).toContain('<wpt ');
  });

  it.each([
    [{ date: '2026-02-30' }, 'bad-date', '2026-02-30'],
    [{ date: 'never' }, 'bad-date', 'never'],
    [{ spareDate: 'soon' }, 'bad-date', 'spareDate'],
    [{ spareDate: DATE }, 'bad-date', 'not after the trip'],
    [{ today: '2026-13-01' }, 'bad-date', 'today'],
    [{ start: '4:30' }, 'bad-request', 'HH:MM'],
    [{ start: '24:00' }, 'bad-request', 'HH:MM'],
    [{ warm: 'yes' }, 'bad-request', '"true", "false"'],
    [{ units: 'miles' }, 'bad-request', 'units'],
    [{ weather: 'fine' }, 'unknown-parameter', 'weather'],
  ])(
    'refuses %o with one problem that says what to do, whatever Accept asks for',
    async (query, code, part) => {
      const { path } = await planned();
      for (const accept of ['application/json', HTML]) {
        const answer = await get(path, query, accept);
        expect([answer.status, answer.json.code], answer.text).toEqual([400, code]);
        expect(answer.headers['content-type']).toContain('application/problem+json');
        expect(answer.json.detail).toContain(part);
      }
    },
  );

  it('gives the ladder of known routes to one of them, without a label', async () => {
    const { id, routeId } = await planned();
    const answer = await get(`/v1/cohorts/${id}/ladder`, { target: routeId, from: '2026-06-25' });
    expect(answer.status, answer.text).toBe(200);
    const ladder = JSON.parse(answer.text);
    expect(['ready', 'ladder', 'none', 'unknown']).toContain(ladder.state);
    expect(ladder.target).toBe((await ask(service.app, { url: `/v1/routes/${routeId}` })).json.name);
    expect(answer.text).not.toMatch(/"m[1-9]"/);
  });

  it('needs a date, and knows no cohort and no route that are not there', async () => {
    const { id, routeId, path } = await planned();
    expect((await ask(service.app, { url: path })).json.code).toBe('bad-request');
    const none = 'AAAAAAAAAAAAAAAAAAAAAA';
    for (const missing of [
      `/v1/cohorts/co_${none}/routes/${routeId}/trip-plan`,
      `/v1/cohorts/${id}/routes/rt_${none}/trip-plan`,
      `/v1/cohorts/co_${none}/routes/${routeId}/training-plan`,
      `/v1/cohorts/${id}/routes/rt_${none}/training-plan`,
    ]) {
      const answer = await get(missing);
      expect([answer.status, answer.json.code], missing).toEqual([404, 'not-found']);
    }
  });

  it('keeps the data of a cohort that plans a later day, here or its training', async () => {
    const store = openStore(join(folder, 'kept.db'), { nowMs: () => NOW_MS });
    const ground = { surface: service.surface, design: DESIGN };
    const context = openContext({ store, ground, nowMs: () => NOW_MS });
    try {
      const { id } = await storeCohort(context, COHORT);
      const bytes = new TextEncoder().encode(wayUp());
      const { routes } = await addRoutes(context, [{ bytes, mediaType: GPX }]);
      const routeId = routes[0]?.id ?? '';
      const last = async () => (await getCohort(context, id)).lastTripDate;
      const asked = {
        cohortId: id,
        routeId,
        units: 'metric',
        start: null,
        spareDate: null,
        warm: null,
        today: null,
      } as const;
      await tripPlan(context, { ...asked, date: '2026-09-26' });
      expect(await last()).toBe('2026-09-26');
      await trainingFor(context, { ...asked, date: '2026-10-03', from: null });
      expect(await last()).toBe('2026-10-03');
    } finally {
      await store.close();
    }
  });

  it('gives the training alone as the plan has it', async () => {
    const { id, routeId, path } = await planned({
      outings: [{ ...SHOWN, distanceM: 4000, gainM: 500, movingMin: 150 }],
    });
    const date = '2026-09-26';
    const training = `/v1/cohorts/${id}/routes/${routeId}/training-plan`;
    const alone = JSON.parse((await get(training, { date, from: '2026-07-06' })).text) as TrainingPlanView;
    expect(alone).toEqual((await planOf(path, { date, today: '2026-07-06' })).trainingPlan);
    expect(alone.state).toBe('train');
    expect(alone.steps.every(({ date: day }) => day > '2026-07-06' && day < date)).toBe(true);
    const now = JSON.parse((await get(training, { date })).text) as TrainingPlanView;
    expect(now.today).toBe('2026-07-05');
    const bad = await get(training, { from: 'x' });
    expect([bad.status, bad.json.code]).toEqual([400, 'bad-date']);
    expect(bad.json.errors[0]?.parameter).toBe('from');
  });
});

describe('a route as GPX', () => {
  const service = eachService();

  it('is the line with its checkpoints, in the units asked for, with a tag of its own', async () => {
    const { id, etag } = await addRoute(service.app);
    const url = `/v1/routes/${id}.gpx`;
    const answer = await ask(service.app, { url, headers: { accept: '*/*' } });
    expect(answer.status, answer.text).toBe(200);
    expect(answer.headers).toMatchObject({
      'content-type': GPX,
      'content-disposition': 'attachment; filename="South-Way.gpx"',
    });
    expect(answer.headers.etag).not.toBe(etag);
    const again = await ask(service.app, { url, headers: { 'if-none-match': String(answer.headers.etag) } });
    expect([again.status, again.text]).toEqual([304, '']);
    const us = await ask(service.app, { url: `${url}?units=us` });
    expect(us.headers.etag).not.toBe(answer.headers.etag);
    expect(us.text).toMatch(/\d ft;/);
    expect(answer.text).not.toMatch(/\d ft;/);
  });

  it('is not where there is no route, and comes as nothing but GPX', async () => {
    const { id } = await addRoute(service.app);
    const none = await ask(service.app, { url: '/v1/routes/rt_AAAAAAAAAAAAAAAAAAAAAA.gpx' });
    expect([none.status, none.json.code]).toEqual([404, 'not-found']);
    const json = await ask(service.app, {
      url: `/v1/routes/${id}.gpx`,
      headers: { accept: 'application/json' },
    });
    expect([json.status, json.json.code]).toEqual([406, 'not-acceptable']);
    expect((await ask(service.app, { url: `/v1/routes/${id}` })).json.id).toBe(id);
  });

  it.each([
    ['Größe: ../../x', 'Gro-e-x'],
    ['South Way', 'South-Way'],
    ['', 'route'],
    ['..', 'route'],
    ['Пик', 'route'],
    ['a"\r\nSet-Cookie: b', 'a-Set-Cookie-b'],
    ['-', 'route'],
    [`${'x'.repeat(59)} y`, 'x'.repeat(59)],
  ])('a name %o is kept in a file name as %s', (name, stem) => {
    expect(fileStem(name)).toBe(stem);
  });
});

describe('the routes that a plan looks through', () => {
  const service = eachService();

  it('are those of the nearest trailheads, the nearest first, and no more than are looked through', async () => {
    const { app, store } = service;
    const { id: routeId } = await addRoute(app);
    const { id: near } = await addRoute(app, lowerWay('Near', 0.01));
    const { id: nearer } = await addRoute(app, lowerWay('Nearer', 0.005));
    const at = { lonDeg: -30.2, latDeg: 46.08 };
    const routes = await store.routes.all();
    const listed = (stored: typeof routes, except: string, most?: number) => {
      const columns = {
        lonDeg: Float64Array.from(stored, ({ route }) => route.trailhead.lonDeg),
        latDeg: Float64Array.from(stored, ({ route }) => route.trailhead.latDeg),
      };
      const ids = stored.map(({ id }) => id);
      return nearestTo(at, ids, columns, except, most);
    };
    expect(listed(routes, '')).toEqual([routeId, nearer, near]);
    expect(listed(routes, '', 2)).toEqual([routeId, nearer]);
    expect(listed(routes, routeId)).toEqual([nearer, near]);
    const many = Array.from({ length: MOST_KNOWN + 1 }, () => routes).flat();
    expect(listed(many, '')).toHaveLength(MOST_KNOWN);
  });
});
