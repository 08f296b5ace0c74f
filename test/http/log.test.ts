import Database from 'better-sqlite3';
import { pino } from 'pino';
import { describe, expect, it } from 'vitest';
import type { App } from '../../src/http/deps.ts';
import { LOG_SERIALIZERS } from '../../src/http/log.ts';
import { buildApp } from '../../src/service.ts';
import {
  addCohort,
  ask,
  COHORT,
  eachService,
  GPX,
  PUBLIC_URL,
  post,
  sendJson,
  walkWithClock,
} from './service.ts';

interface Line {
  readonly msg: string;
  readonly req?: unknown;
  readonly err?: unknown;
  readonly code?: string;
}

describe('the log', () => {
  const service = eachService();

  /** The service with its log at the finest level; what `call` makes it write. */
  async function logged(call: (app: App) => Promise<unknown>): Promise<{ text: string; lines: Line[] }> {
    let text = '';
    const stream = {
      write(line: string) {
        text += line;
      },
    };
    const log = pino({ level: 'trace', serializers: LOG_SERIALIZERS }, stream);
    const app = await buildApp({ ...service, publicUrl: PUBLIC_URL, log });
    try {
      await call(app);
    } finally {
      await app.close();
    }
    const lines = text.split('\n').filter((line) => line !== '');
    return { text, lines: lines.map((line) => JSON.parse(line) as Line) };
  }

  const requestsOf = (lines: readonly Line[]): unknown[] =>
    lines.flatMap(({ req }) => (req === undefined ? [] : [req]));

  it('names requests by the pattern of their route, with nothing of what was sent', async () => {
    let id = '';
    let outingId = '';
    const { text, lines } = await logged(async (app) => {
      ({ id } = await addCohort(app));
      const walk = walkWithClock().replace('Training day', 'Gwendolyn');
      const query = '?date=2026-06-20&rockClass=1&members=m1,zq7x';
      const recorded = await post(app, `/v1/cohorts/${id}/outings${query}`, walk, GPX);
      expect(recorded.status).toBe(201);
      outingId = recorded.json.id;
      const erased = await ask(app, { method: 'DELETE', url: `/v1/cohorts/${id}/members/zq7x` });
      expect(erased.status).toBe(204);
      expect((await ask(app, { url: `/v1/cohorts/${id}/export` })).status).toBe(200);
      expect((await ask(app, { url: `/v1/cohorts/${id}/shortlist?date=2026-07-11` })).status).toBe(200);
    });
    expect(requestsOf(lines)).toEqual([
      { method: 'POST', route: '/v1/cohorts' },
      { method: 'POST', route: '/v1/cohorts/:id/outings' },
      { method: 'DELETE', route: '/v1/cohorts/:id/members/:label' },
      { method: 'GET', route: '/v1/cohorts/:id/export' },
      { method: 'GET', route: '/v1/cohorts/:id/shortlist' },
    ]);
    expect(lines.filter(({ msg }) => msg === 'request completed')).toHaveLength(5);
    const sent = [
      'zq7x',
      'm1',
      'Gwendolyn',
      'trkpt',
      '46.08',
      '30.2',
      '2026-06-20',
      '2026-07-11',
      'members=',
      '?',
    ];
    // How long an answer took may happen to read like a coordinate.
    const told = text.replaceAll(/"responseTime":[\d.]+/g, '');
    for (const word of [...sent, id, outingId, COHORT.name, 'harbour', '127.0.0.1']) {
      expect([word, told.includes(word)]).toEqual([word, false]);
    }
  });

  it('says no more of requests that are refused', async () => {
    const { text, lines } = await logged(async (app) => {
      const { id } = await addCohort(app);
      const at = `/v1/cohorts/${id}`;
      const refused = [
        await post(app, `${at}/outings?date=2026-06-20&members=zq7y`, walkWithClock(), GPX),
        await post(app, `${at}/outings?date=zq7y`, walkWithClock(), GPX),
        await post(app, `${at}/outings?zq7y=1`, walkWithClock(), GPX),
        await post(app, `${at}/outings?date=2026-06-20`, '<gpx><trk><name>zq7y</name></trk>', GPX),
        await sendJson(app, `${at}/outings`, { date: '2026-06-20', zq7y: 1 }),
        await post(app, `${at}/outings`, '{"zq7y"', 'application/json'),
        await post(app, `${at}/outings`, 'zq7y', 'text/zq7y'),
        await ask(app, { method: 'DELETE', url: `${at}/members/zq7y` }),
        await ask(app, { method: 'DELETE', url: `${at}/members/zq7y-much-too-long` }),
        await ask(app, { method: 'GET', url: `${at}/members/zq7y` }),
        await ask(app, { method: 'GET', url: `/v1/zq7y/${id}?zq7y` }),
        await ask(app, { method: 'GET', url: `${at}/members/zq7y%zz` }),
        await ask(app, { method: 'GET', url: `${at}/members/${'zq7y'.repeat(80)}` }),
        await ask(app, { method: 'GET', url: `${at}/export`, headers: { host: 'zq7y.example' } }),
      ];
      for (const { status } of refused) expect(status).toBeGreaterThanOrEqual(400);
      for (const { status } of refused) expect(status).toBeLessThan(500);
    });
    expect(lines.filter(({ msg }) => msg === 'request refused')).toHaveLength(14);
    expect(text).not.toMatch(/zq7/);
  });

  it('says of our own faults where they are, and nothing of what was sent', async () => {
    const { text, lines } = await logged(async (app) => {
      app.log.error({ err: new RangeError('zq7x\n    at zq7x (file:///zq7x.ts:1:1)') }, 'it failed');
      const { id } = await addCohort(app);
      // A damaged row: the message of the JSON parser quotes it.
      const raw = new Database(service.databaseFile);
      raw.prepare('update cohorts set cohort = ?').run('{"members":[zq7x]}');
      raw.close();
      expect(() => JSON.parse('{"members":[zq7x]}')).toThrow('zq7x');
      const answer = await ask(app, { url: `/v1/cohorts/${id}` });
      expect(answer.status).toBe(500);
    });
    const faults = lines.flatMap(({ err }) => (err === undefined ? [] : [err]));
    expect(faults[0]).toMatchObject({ type: 'RangeError' });
    expect(JSON.stringify(faults[0])).toContain('log.test.ts');
    expect(faults.length).toBeGreaterThan(1);
    expect(text).not.toContain('zq7x');
  });
});
