import { describe, expect, it } from 'vitest';
import { type Answer, ask, eachService, expectRefused, post, wayUp } from './service.ts';

const BOUNDARY = 'krummholz-test';
const TYPE = `multipart/form-data; boundary=${BOUNDARY}`;

interface Part {
  readonly fileName: string | null;
  readonly body: string;
}

const form = (parts: readonly Part[], end = `--${BOUNDARY}--\r\n`): string =>
  parts
    .map(({ fileName, body }) => {
      const file = fileName === null ? '' : `; filename="${fileName}"`;
      return `--${BOUNDARY}\r\nContent-Disposition: form-data; name="files"${file}\r\n\r\n${body}\r\n`;
    })
    .join('') + end;

describe('uploads from a form', () => {
  const service = eachService();
  const send = (body: string, query = ''): Promise<Answer> =>
    post(service.app, `/v1/routes${query}`, body, TYPE);

  it('stores several files, each with the attributes of its name', async () => {
    const answer = await send(
      form([
        { fileName: 'b.route.json', body: '{"rockClass":"2+"}' },
        { fileName: 'a.gpx', body: wayUp('A') },
        { fileName: 'b.gpx', body: wayUp('B', 0.001) },
      ]),
    );
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes.map(({ name, attributes }) => [name, attributes])).toEqual([
      ['A', {}],
      ['B', { rockClass: '2+' }],
    ]);
  });

  it.each(['../../x.gpx', '..\\..\\x.gpx', `${'n'.repeat(5000)}.gpx`, 'x%0d%0ay.gpx', '/etc/passwd'])(
    'A53: never uses the client’s file name as a path: %#',
    async (fileName) => {
      const answer = await send(form([{ fileName, body: wayUp() }]));
      expect(answer.status, answer.text).toBe(201);
      expect(answer.text).not.toMatch(/\.\.|\/etc|n{300}/);
    },
  );

  it('names a route without a name after its file', async () => {
    const body = wayUp().replace('<name>South Way</name>', '');
    const answer = await send(form([{ fileName: '../../East Ridge.gpx', body }]));
    expect(answer.json.routes[0]?.name).toBe('East Ridge');
  });

  it('stores nothing where one file of several is bad, and names it', async () => {
    const answer = await send(
      form([
        { fileName: 'a.gpx', body: wayUp('A') },
        { fileName: 'bad.gpx', body: '<gpx/>' },
      ]),
    );
    await expectRefused(service.app, answer, 422, 'no-line');
    expect(answer.json.errors[0]).toMatchObject({ file: 'bad.gpx' });
  });

  it.each([
    ['no route file', form([]), 400, 'empty-body'],
    ['attributes alone', form([{ fileName: 'a.route.json', body: '{}' }]), 422, 'bad-attribute'],
    [
      'attributes that are wrong',
      form([
        { fileName: 'a.route.json', body: '{"x":1}' },
        { fileName: 'a.gpx', body: wayUp() },
      ]),
      422,
      'bad-attribute',
    ],
    ['a part without a file name', form([{ fileName: null, body: wayUp() }]), 400, 'bad-request'],
    [
      '1,001 parts',
      form(Array.from({ length: 1001 }, (_, i) => ({ fileName: `${i}.gpx`, body: 'x' }))),
      413,
      'body-too-large',
    ],
    ['no end', form([{ fileName: 'a.gpx', body: wayUp() }], ''), 400, 'bad-request'],
    [
      'another boundary',
      form([{ fileName: 'a.gpx', body: wayUp() }]).replaceAll(BOUNDARY, 'other'),
      400,
      'bad-request',
    ],
    ['nothing at all', '', 400, 'empty-body'],
    [
      'a field named __proto__',
      form([{ fileName: 'a.gpx', body: wayUp() }]).replace('name="files"', 'name="__proto__"'),
      400,
      'bad-request',
    ],
  ])('D19: refuses a form with %s', async (_what, body, status, code) => {
    await expectRefused(service.app, await send(body), status, code);
  });

  it('D19: refuses a form without a boundary', async () => {
    const answer = await post(service.app, '/v1/routes', 'x', 'multipart/form-data');
    await expectRefused(service.app, answer, 400, 'bad-request');
  });

  it('answers a file that was sent before with the route it gave', async () => {
    const first = await send(form([{ fileName: 'a.gpx', body: wayUp() }]));
    const id = first.json.routes[0]?.id ?? '';
    const again = await post(service.app, '/v1/routes', wayUp(), 'application/gpx+xml');
    expect([again.status, again.json.routes[0]?.id]).toEqual([200, id]);
    expect(again.headers['content-location']).toBe(`http://127.0.0.1:8787/v1/routes/${id}`);
    expect(again.headers.location).toBeUndefined();
    const other = await post(service.app, '/v1/routes?name=Other', wayUp(), 'application/gpx+xml');
    expect(other.status).toBe(201);
    expect((await ask(service.app, { url: '/v1/routes' })).json.routes).toHaveLength(2);
  });

  it('G8: makes one route of one file sent twice at once', async () => {
    const answers = await Promise.all(
      [1, 2].map(() => post(service.app, '/v1/routes', wayUp(), 'application/gpx+xml')),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 201]);
    expect(new Set(answers.map(({ json }) => json.routes[0]?.id)).size).toBe(1);
  });

  it('gives one name to one route only', async () => {
    const two = form([
      {
        fileName: 'a.gpx',
        body: wayUp('A').replace('</gpx>', wayUp('B', 0.001).replace(/^.*?<trk>/, '<trk>')),
      },
    ]);
    await expectRefused(service.app, await send(two, '?name=Both'), 422, 'bad-attribute');
  });
});
