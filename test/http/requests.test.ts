import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { mediaTypeOf, preferred } from '../../src/http/media.ts';
import { gpxOf, walk } from '../ingest/samples.ts';
import {
  addRoute,
  ask,
  eachService,
  expectRefused,
  GPX,
  JSON_TYPE,
  PUBLIC_URL,
  post,
  wayUp,
} from './service.ts';

describe('requests that are not as they should be', () => {
  const service = eachService();

  it.each(['/v1/routes', '/v1/cohorts'])('D1: needs a Content-Type at %s', async (url) => {
    const answer = await ask(service.app, { method: 'POST', url, payload: Buffer.from(gpxOf(walk())) });
    await expectRefused(service.app, answer, 415, 'unsupported-media-type');
  });

  it('D2: refuses other kinds and says which it takes', async () => {
    const answer = await post(service.app, '/v1/routes', 'a,b', 'text/csv');
    await expectRefused(service.app, answer, 415, 'unsupported-media-type');
    expect(answer.headers['accept-post']).toContain(GPX);
    const { id, etag } = await addRoute(service.app);
    const headers = { 'content-type': 'text/csv', 'if-match': etag };
    const patch = await ask(service.app, { method: 'PATCH', url: `/v1/routes/${id}`, headers, payload: 'x' });
    expect([patch.status, patch.headers['accept-patch']]).toEqual([
      415,
      'application/merge-patch+json, application/json',
    ]);
  });

  it.each(['application/json\t; charset=x', ' application/json', 'application/json;', 'APPLICATION/JSON'])(
    'D3: never lets a body past the checks by writing its type as “%s”',
    async (type) => {
      const answer = await post(service.app, '/v1/cohorts', '{"name":"x","nonsense":1}', type);
      expect([400, 415, 422]).toContain(answer.status);
      expect((await ask(service.app, { url: '/v1/cohorts' })).json.cohorts).toEqual([]);
    },
  );

  it('D5: does not unpack a compressed body', async () => {
    const answer = await ask(service.app, {
      method: 'POST',
      url: '/v1/routes',
      headers: { 'content-type': GPX, 'content-encoding': 'gzip' },
      payload: gzipSync(gpxOf(walk())),
    });
    await expectRefused(service.app, answer, 415, 'compressed-not-supported');
    expect(answer.headers['accept-encoding']).toBe('identity');
  });

  it('D6: refuses a body over 10 MiB by what Content-Length says', async () => {
    const answer = await ask(service.app, {
      method: 'POST',
      url: '/v1/routes',
      headers: { 'content-type': GPX, 'content-length': String(10 * 1024 * 1024 + 1) },
      payload: Buffer.alloc(10 * 1024 * 1024 + 1, 0x20),
    });
    await expectRefused(service.app, answer, 413, 'body-too-large');
  });

  it.each([
    ['DELETE', '/v1/routes', 'GET, HEAD, OPTIONS, POST'],
    ['POST', '/v1/settings', 'GET, HEAD, OPTIONS'],
    ['PUT', `/v1/routes/rt_${'a'.repeat(22)}`, 'DELETE, GET, HEAD, OPTIONS, PATCH'],
    ['TRACE', '/v1/routes', 'GET, HEAD, OPTIONS, POST'],
  ] as const)('D13, D14: answers %s %s with what is allowed there', async (method, url, allow) => {
    // The tool's types leave TRACE out.
    const answer = await ask(service.app, { method: method as 'DELETE', url });
    await expectRefused(service.app, answer, 405, 'method-not-allowed');
    expect(answer.headers.allow).toBe(allow);
  });

  it('answers OPTIONS with what is allowed, and HEAD as GET without a body', async () => {
    const options = await ask(service.app, { method: 'OPTIONS', url: '/v1/cohorts' });
    expect([options.status, options.headers.allow, options.text]).toEqual([
      204,
      'GET, HEAD, OPTIONS, POST',
      '',
    ]);
    const head = await ask(service.app, { method: 'HEAD', url: '/v1/routes' });
    expect([head.status, head.text]).toEqual([200, '']);
  });

  it.each(['image/png', '*/*;q=0', 'application/json;q=0, image/*'])(
    'D15, D16: cannot answer as “%s”',
    async (accept) => {
      const answer = await ask(service.app, { url: '/v1/settings', headers: { accept } });
      await expectRefused(service.app, answer, 406, 'not-acceptable');
      expect(answer.json.detail).toContain('application/json');
      const upload = await ask(service.app, {
        method: 'POST',
        url: '/v1/routes',
        headers: { accept, 'content-type': GPX },
        payload: wayUp(),
      });
      await expectRefused(service.app, upload, 406, 'not-acceptable');
    },
  );

  it('D17: makes links from the configured address alone', async () => {
    const answer = await ask(service.app, {
      method: 'POST',
      url: '/v1/routes',
      headers: { 'content-type': GPX, 'x-forwarded-host': 'evil.example', 'x-forwarded-proto': 'https' },
      payload: wayUp(),
    });
    expect(answer.headers.location).toBe(`${PUBLIC_URL}/v1/routes/${answer.json.routes[0]?.id}`);
    expect(answer.text).not.toContain('evil.example');
  });

  it.each([
    'evil.example',
    'evil.example:8787',
    '127.0.0.1.evil.example',
    'localhost.evil.example',
    '192.0.2.1',
  ])(
    'D17: does not answer under the name “%s”, which a page of another site may have pointed here',
    async (host) => {
      const answer = await ask(service.app, { url: '/v1/routes', headers: { host } });
      await expectRefused(service.app, answer, 421, 'misdirected-host');
    },
  );

  it.each(['localhost', 'LOCALHOST:8787', '127.0.0.1:1', '[::1]:8787'])('answers under %s', async (host) => {
    expect((await ask(service.app, { url: '/livez', headers: { host } })).status).toBe(200);
  });

  it.each([
    ['/v1/routes/%E0%A4%A', 400, 'bad-request'],
    ['/v1/routes/%00', 400, 'bad-request'],
    ['/v1/routes/a%0d%0ab', 400, 'bad-request'],
    ['/v1/routes/..%2f..%2fetc%2fpasswd', 404, 'not-found'],
    ['/v1/routes/nope', 404, 'not-found'],
    [`/v1/routes/rt_${'a'.repeat(22)}`, 404, 'not-found'],
    [`/v1/routes/${'a'.repeat(3000)}`, 414, 'uri-too-long'],
    ['/v1/nothing', 404, 'not-found'],
    ['/metrics', 404, 'not-found'],
    [`/v1/cohorts/co_${'a'.repeat(22)}/ladder`, 400, 'bad-request'],
    [`/v1/cohorts/co_${'a'.repeat(22)}/ladder?date=2026-07-11&target=rt_${'a'.repeat(22)}`, 404, 'not-found'],
  ])('D18: answers %s as a problem', async (url, status, code) => {
    const answer = await ask(service.app, { url });
    await expectRefused(service.app, answer, status, code);
    expect(answer.text).not.toContain('passwd');
  });

  it('D22: gives the whole of a resource whatever range is asked for', async () => {
    const { id } = await addRoute(service.app);
    const answer = await ask(service.app, { url: `/v1/routes/${id}`, headers: { range: 'bytes=0-1' } });
    expect([answer.status, answer.json.id]).toEqual([200, id]);
  });

  it('D23: lets no other site’s page in', async () => {
    const headers = { origin: 'https://evil.example', 'access-control-request-method': 'POST' };
    for (const method of ['OPTIONS', 'GET'] as const) {
      const answer = await ask(service.app, { method, url: '/v1/routes', headers });
      expect(Object.keys(answer.headers).filter((name) => name.startsWith('access-control'))).toEqual([]);
    }
  });

  it('sends its safety headers with answers and errors alike', async () => {
    for (const url of ['/v1/routes', '/v1/nothing', '/v1/routes?x=1']) {
      const { headers } = await ask(service.app, { url });
      expect(headers).toMatchObject({
        'content-security-policy': "default-src 'none';frame-ancestors 'none'",
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cache-control': 'private, no-cache',
        vary: 'Accept',
      });
      expect(headers.server ?? headers['x-powered-by']).toBeUndefined();
    }
  });

  it('says nothing of its inside when something breaks', async () => {
    await service.store.close();
    const answer = await ask(service.app, { url: '/v1/routes' });
    expect([answer.status, answer.json.code]).toEqual([500, 'internal']);
    expect(answer.text).not.toMatch(/sqlite|kysely|driver|node_modules|\.ts|select/i);
    const ready = await ask(service.app, { url: '/readyz' });
    expect([ready.status, ready.json.code, ready.headers['retry-after']]).toEqual([503, 'unavailable', '5']);
    expect((await ask(service.app, { url: '/livez' })).status).toBe(200);
  });

  it('is ready with a store and tiles', async () => {
    const answer = await ask(service.app, { url: '/readyz' });
    expect([answer.status, answer.text, answer.headers['cache-control']]).toEqual([
      200,
      '{"status":"ok","damagedTiles":0}',
      'no-store',
    ]);
  });

  it.each([
    ['{"__proto__":{"participants":1}}', 400, 'json-forbidden-key'],
    ['{"name":"x","constructor":{"prototype":{}}}', 400, 'json-forbidden-key'],
    ['', 400, 'empty-body'],
    ['{', 400, 'json-malformed'],
    ['[]', 422, 'bad-cohort'],
    [`${'['.repeat(100_000)}`, 422, 'bad-cohort'],
    ['{"name":"x","participants":"9"}', 422, 'bad-cohort'],
    ['{"name":"x","participants":9,"role":"coordinator"}', 422, 'bad-cohort'],
  ])('reads a cohort body strictly: %s', async (body, status, code) => {
    const answer = await post(service.app, '/v1/cohorts', body, JSON_TYPE);
    await expectRefused(service.app, answer, status, code);
    expect((await ask(service.app, { url: '/v1/cohorts' })).json.cohorts).toEqual([]);
  });
});

describe('Accept', () => {
  it.each([
    [undefined, true],
    ['', true],
    ['*/*', true],
    ['text/html, application/*;q=0.5', true],
    ['application/json; charset=utf-8', true],
    ['*/*, application/json;q=0', false],
    ['application/*;q=0, application/json', true],
    ['text/html', false],
  ])('%s: the most specific range decides', (header, taken) => {
    expect(preferred(header, ['application/json']) !== null).toBe(taken);
  });
});

describe('Content-Type', () => {
  it.each([
    ['application/json', 'application/json'],
    ['Application/GPX+XML ; charset=utf-8', 'application/gpx+xml'],
    ['application/json\t;x', 'application/json'],
    ['application/json x', null],
    ['application json', null],
    [undefined, null],
  ])('%s is read as %s', (header, type) => {
    expect(mediaTypeOf(header)).toBe(type);
  });
});
