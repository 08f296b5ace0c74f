import { describe, expect, it } from 'vitest';
import { cursors } from '../../src/http/cursor.ts';
import { addCohort, addRoute, ask, eachService, expectRefused, wayUp } from './service.ts';

const DATE = 'date=2026-07-11';

describe('queries', () => {
  const service = eachService();

  const nextOf = (answer: { readonly headers: Readonly<Record<string, unknown>> }): string | null =>
    /^<[^>]*?(\/v1[^>]*)>; rel="next"$/.exec(String(answer.headers.link ?? ''))?.[1] ?? null;

  async function threeRoutes(): Promise<string[]> {
    const ids: string[] = [];
    for (const [i, name] of ['One', 'Two', 'Three'].entries()) {
      ids.push((await addRoute(service.app, wayUp(name, i * 0.001))).id);
    }
    return ids;
  }

  it('E1: names the parameter that was meant', async () => {
    const answer = await ask(service.app, { url: '/v1/routes?limt=5' });
    await expectRefused(service.app, answer, 400, 'unknown-parameter');
    expect(answer.json.detail).toContain('did you mean limit?');
    expect(answer.json.errors[0]?.parameter).toBe('limt');
  });

  it.each([
    '/v1/settings?x=1',
    '/livez?x=1',
    '/v1/openapi.json?x=1',
    '/v1/routes?__proto__=1',
    '/v1/cohorts?constructor=1',
  ])('E1: knows no parameter where there is none: %s', async (url) => {
    await expectRefused(service.app, await ask(service.app, { url }), 400, 'unknown-parameter');
  });

  it.each(['0', '-1', '1.5', 'abc', '', '1e1', ' 5', '0x10'])('E2: refuses limit=%s', async (limit) => {
    const answer = await ask(service.app, { url: `/v1/routes?limit=${encodeURIComponent(limit)}` });
    await expectRefused(service.app, answer, 400, 'bad-request');
  });

  it('E3: gives as much as there may be where more is asked for', async () => {
    await addRoute(service.app);
    const answer = await ask(service.app, { url: '/v1/routes?limit=1000000' });
    expect([answer.status, answer.json.routes.length]).toEqual([200, 1]);
  });

  it('E4: wants each parameter once', async () => {
    const answer = await ask(service.app, { url: '/v1/routes?limit=1&limit=2' });
    await expectRefused(service.app, answer, 400, 'duplicate-parameter');
  });

  it('pages through a list in the order in which things came', async () => {
    const ids = await threeRoutes();
    const seen: string[] = [];
    let url: string | null = '/v1/routes?limit=2';
    while (url !== null) {
      const answer = await ask(service.app, { url });
      expect(answer.status, answer.text).toBe(200);
      seen.push(...answer.json.routes.map(({ id }) => id));
      url = nextOf(answer);
    }
    expect(seen).toEqual(ids);
  });

  it('E19: ends with the last row', async () => {
    await threeRoutes();
    const last = await ask(service.app, { url: '/v1/routes?limit=3' });
    expect(last.headers.link).toBeUndefined();
  });

  it('E11: refuses a cursor that was changed, or belongs to another list', async () => {
    await threeRoutes();
    const { id } = await addCohort(service.app);
    const first = await ask(service.app, { url: '/v1/routes?limit=1' });
    const cursor = new URLSearchParams(nextOf(first)?.split('?')[1]).get('cursor') ?? '';
    const [place = '', signature = ''] = cursor.split('.');
    const moved = Buffer.from(JSON.stringify([0, 'rt_'])).toString('base64url');
    const bad = [
      `/v1/routes?cursor=${moved}.${signature}`,
      `/v1/routes?cursor=${place}.${signature.replace(/^./, (c) => (c === 'A' ? 'B' : 'A'))}`,
      `/v1/routes?cursor=${place}`,
      '/v1/routes?cursor=',
      '/v1/routes?cursor=..',
      `/v1/cohorts?cursor=${cursor}`,
      `/v1/cohorts/${id}/outings?cursor=${cursor}`,
      `/v1/cohorts/${id}/shortlist?${DATE}&cursor=${cursor}`,
    ];
    for (const url of bad) {
      const answer = await ask(service.app, { url });
      expect([answer.status, answer.json.code], url).toEqual([400, 'bad-request']);
    }
    expect((await ask(service.app, { url: `/v1/routes?cursor=${cursor}` })).json.routes).toHaveLength(2);
  });

  it('E11: a shortlist’s cursor holds for the same question only', async () => {
    await threeRoutes();
    const { id } = await addCohort(service.app);
    const path = `/v1/cohorts/${id}/shortlist`;
    const first = await ask(service.app, { url: `${path}?${DATE}&limit=2` });
    const next = nextOf(first) ?? '';
    expect(next).toContain('limit=2');
    const second = await ask(service.app, { url: next });
    expect([...first.json.routes, ...second.json.routes].map(({ rank }) => rank)).toEqual([1, 2, 3]);
    expect(nextOf(second)).toBeNull();
    for (const other of [
      next.replace('units=metric', 'units=us'),
      `${next}&verdict=incomplete`,
      next.replace('2026-07-11', '2026-07-12'),
    ]) {
      const answer = await ask(service.app, { url: other });
      expect([answer.status, answer.json.code], other).toEqual([400, 'bad-request']);
    }
  });

  it.each([
    ['units=furlong', 'bad-request'],
    ['verdict=maybe', 'bad-request'],
    ['verdict=fits,', 'bad-request'],
  ])('E18: refuses %s and lists what there is', async (query, code) => {
    const { id } = await addCohort(service.app);
    const answer = await ask(service.app, { url: `/v1/cohorts/${id}/shortlist?${DATE}&${query}` });
    expect([answer.status, answer.json.code]).toEqual([400, code]);
    expect(answer.json.detail).toMatch(/metric|fits/);
  });

  it.each(['', '?date=2026-02-30', '?date=2026-7-1', '?date=tomorrow', '?date='])(
    'wants a day that exists: “%s”',
    async (query) => {
      const { id } = await addCohort(service.app);
      const answer = await ask(service.app, { url: `/v1/cohorts/${id}/shortlist${query}` });
      expect([answer.status, answer.json.code]).toEqual([400, query === '' ? 'bad-request' : 'bad-date']);
    },
  );

  it('filters the shortlist by verdict and keeps the ranks of the whole', async () => {
    const [first] = await threeRoutes();
    const { id } = await addCohort(service.app);
    const url = `/v1/cohorts/${id}/shortlist?${DATE}`;
    const all = await ask(service.app, { url });
    const verdicts = new Set(all.json.routes.map(({ verdict }) => verdict));
    expect(all.json.routes.map((route) => route.id)).toContain(first);
    for (const verdict of ['fits', 'stretch', 'notYet', 'incomplete', 'ruledOut']) {
      const some = await ask(service.app, { url: `${url}&verdict=${verdict}` });
      expect(some.json.routes).toEqual(all.json.routes.filter((route) => route.verdict === verdict));
    }
    expect(verdicts.size).toBeGreaterThan(0);
  });

  it('E13: knows no cohort that is not there', async () => {
    for (const path of [
      '',
      '/shortlist?date=2026-07-11',
      '/outings',
      `/routes/rt_${'a'.repeat(22)}/fit?${DATE}`,
    ]) {
      const answer = await ask(service.app, { url: `/v1/cohorts/co_${'a'.repeat(22)}${path}` });
      expect([answer.status, answer.json.code], path).toEqual([404, 'not-found']);
    }
  });

  it('E20: gives an empty shortlist where there is no route', async () => {
    const { id } = await addCohort(service.app);
    const answer = await ask(service.app, { url: `/v1/cohorts/${id}/shortlist?${DATE}` });
    expect([answer.status, answer.json.routes]).toEqual([200, []]);
  });
});

describe('cursors', () => {
  it('open what they sealed, in the same scope with the same secret', () => {
    const { seal, open } = cursors(new Uint8Array(32).fill(1));
    expect(open('list', seal('list', [5, 'a']))).toEqual([5, 'a']);
    expect(() => open('other', seal('list', [5]))).toThrow('cursor');
    expect(() => cursors(new Uint8Array(32)).open('list', seal('list', [5]))).toThrow('cursor');
  });
});
