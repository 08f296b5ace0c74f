import type Type from 'typebox';
import { Compile } from 'typebox/compile';
import { describe, expect, it } from 'vitest';
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
  wayUp,
} from './service.ts';

interface Media {
  readonly content?: Readonly<Record<string, { readonly schema: unknown }>>;
}

interface Operation {
  readonly operationId: string;
  readonly summary: string;
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly required: boolean }[];
  readonly requestBody?: Media;
  readonly responses: Readonly<Record<string, { readonly description: string } & Media>>;
}

interface Document {
  readonly openapi: string;
  readonly servers: readonly { readonly url: string }[];
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, unknown>> };
}

/** The schema with its references replaced by what they name. */
function resolved(schema: unknown, document: Document): unknown {
  if (Array.isArray(schema)) return schema.map((one) => resolved(one, document));
  if (typeof schema !== 'object' || schema === null) return schema;
  if ('$ref' in schema) {
    const name = String(schema.$ref).replace('#/components/schemas/', '');
    const named = document.components.schemas[name];
    expect(named, String(schema.$ref)).toBeDefined();
    return resolved(named, document);
  }
  return Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, resolved(value, document)]));
}

describe('the OpenAPI document', () => {
  const service = eachService();

  async function documentOf(): Promise<Document> {
    const { status, text } = await ask(service.app, { url: '/v1/openapi.json' });
    expect(status).toBe(200);
    return JSON.parse(text) as Document;
  }

  const operationsOf = ({ paths }: Document) =>
    Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
    );

  it('is 3.1, with every operation named once, and every answer described', async () => {
    const document = await documentOf();
    expect(document.openapi).toBe('3.1.0');
    expect(document.servers).toEqual([{ url: 'http://127.0.0.1:8787' }]);
    const operations = operationsOf(document);
    expect(new Set(operations.map(({ operation }) => operation.operationId)).size).toBe(operations.length);
    for (const { path, method, operation } of operations) {
      const where = `${method} ${path}`;
      expect(operation.summary, where).toBeTruthy();
      expect(Object.keys(operation.responses), where).toEqual(expect.arrayContaining(['4XX', '5XX']));
      expect(
        Object.keys(operation.responses).some((code) => /^2\d\d$/.test(code)),
        where,
      ).toBe(true);
      for (const answer of Object.values(operation.responses)) expect(answer.description, where).toBeTruthy();
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      const named = (operation.parameters ?? []).filter((parameter) => parameter.in === 'path');
      expect(named.map(({ name }) => name).sort(), where).toEqual(inPath.sort());
      expect(
        named.every(({ required }) => required),
        where,
      ).toBe(true);
    }
  });

  it('names the paths of the contract that are built, and no other', async () => {
    const document = await documentOf();
    expect(
      operationsOf(document)
        .map(({ path, method }) => `${method.toUpperCase()} ${path}`)
        .sort(),
    ).toEqual(
      [
        'DELETE /v1/cohorts/{id}',
        'DELETE /v1/cohorts/{id}/members/{label}',
        'DELETE /v1/cohorts/{id}/outings/{outingId}',
        'DELETE /v1/routes/{id}',
        'GET /livez',
        'GET /readyz',
        'GET /v1/cohorts',
        'GET /v1/cohorts/{id}',
        'GET /v1/cohorts/{id}/export',
        'GET /v1/cohorts/{id}/outings',
        'GET /v1/cohorts/{id}/outings/{outingId}',
        'GET /v1/cohorts/{id}/routes/{routeId}/fit',
        'GET /v1/cohorts/{id}/ladder',
        'GET /v1/cohorts/{id}/routes/{routeId}/training-plan',
        'GET /v1/cohorts/{id}/routes/{routeId}/trip-plan',
        'GET /v1/cohorts/{id}/shortlist',
        'GET /v1/cohorts/{id}/shown',
        'GET /v1/openapi.json',
        'GET /v1/routes',
        'GET /v1/routes/{id}',
        'GET /v1/routes/{id}.gpx',
        'GET /v1/routes/{id}/profile',
        'GET /v1/settings',
        'PATCH /v1/routes/{id}',
        'POST /v1/cohorts',
        'POST /v1/cohorts/{id}/outings',
        'POST /v1/cohorts/{id}/shortlist',
        'POST /v1/routes',
        'POST /v1/season-board',
        'PUT /v1/cohorts/{id}',
      ].sort(),
    );
  });

  it('holds schemas that can be used: every reference leads somewhere, every schema compiles', async () => {
    const document = await documentOf();
    for (const schema of Object.values(document.components.schemas)) {
      Compile(resolved(schema, document) as Type.TSchema);
    }
    for (const { operation } of operationsOf(document)) {
      const media = [operation.requestBody, ...Object.values(operation.responses)];
      for (const one of media)
        for (const { schema } of Object.values(one?.content ?? {})) resolved(schema, document);
    }
  });

  it('describes the answers that are really given', async () => {
    const document = await documentOf();
    const holds = (method: string, path: string, answer: Answer): void => {
      const responses = document.paths[path]?.[method]?.responses ?? {};
      const response = responses[answer.status] ?? responses[`${Math.floor(answer.status / 100)}XX`];
      const type = String(answer.headers['content-type']).split(';')[0] ?? '';
      const schema = response?.content?.[type]?.schema;
      expect(schema, `${method} ${path} ${answer.status} ${type}`).toBeDefined();
      const validator = Compile(resolved(schema, document) as Type.TSchema);
      const errors = validator.Check(answer.json) ? [] : [...validator.Errors(answer.json)];
      expect(errors, `${method} ${path}`).toEqual([]);
    };

    const { app } = service;
    const stored = await post(app, '/v1/routes?name=Ridge', wayUp(), GPX);
    holds('post', '/v1/routes', stored);
    holds('post', '/v1/routes', await post(app, '/v1/routes?name=Ridge', wayUp(), GPX));
    holds('post', '/v1/routes', await post(app, '/v1/routes', '<gpx/>', GPX));
    const routeId = stored.json.routes[0]?.id ?? '';
    await addRoute(app, wayUp('Outside the tiles').replaceAll('-30.2', '-29.2'));
    const headers = { 'if-match': '*', 'content-type': 'application/json' };
    const attributes = {
      treelineM: 1500,
      rockClass: '2',
      trailhead: { roadKm: 0 },
      season: { from: '06-15', to: '10-01' },
    };
    holds(
      'patch',
      '/v1/routes/{id}',
      await ask(app, {
        method: 'PATCH',
        url: `/v1/routes/${routeId}`,
        headers,
        payload: JSON.stringify(attributes),
      }),
    );
    const { id } = await addCohort(app, {
      driveLimit: { km: 0, minutes: null },
      vehicles: [{ seats: 8, clearance: 'any' }],
    });
    const outing = await post(
      app,
      `/v1/cohorts/${id}/outings?date=2026-06-20&members=m1`,
      walkWithClock(),
      GPX,
    );
    holds('post', '/v1/cohorts/{id}/outings', outing);
    const byHand = await sendJson(app, `/v1/cohorts/${id}/outings`, {
      date: '2026-06-21',
      distanceM: 0,
      gainM: 0,
    });
    holds('post', '/v1/cohorts/{id}/outings', byHand);
    holds('post', '/v1/cohorts', await sendJson(app, '/v1/cohorts', { name: 'x', participants: 1 }));
    const season = { dates: ['2026-07-11', '2026-07-12'], cohorts: [{ id }] };
    holds('post', '/v1/season-board', await sendJson(app, '/v1/season-board', season));
    holds('post', '/v1/season-board', await sendJson(app, '/v1/season-board', { ...season, dates: [] }));
    await addRoute(app, wayUp('Beside', 0.001));
    const outside = await addRoute(app, wayUp('Also outside').replaceAll('-30.2', '-29.3'));
    const plans = [routeId, outside.id].flatMap((route) =>
      ['trip-plan', 'training-plan'].flatMap((name) =>
        ['2026-07-11', '2026-10-10', '2026-12-21&units=us', 'never'].map(
          (date) =>
            [
              `/v1/cohorts/{id}/routes/{routeId}/${name}`,
              `/v1/cohorts/${id}/routes/${route}/${name}?date=${date}`,
            ] as const,
        ),
      ),
    );
    for (const [path, url] of [
      ['/v1/routes', '/v1/routes'],
      ['/v1/cohorts/{id}/shown', `/v1/cohorts/${id}/shown?date=2026-07-11`],
      ['/v1/routes/{id}', `/v1/routes/${routeId}`],
      ['/v1/routes/{id}/profile', `/v1/routes/${routeId}/profile`],
      ['/v1/cohorts', '/v1/cohorts'],
      ['/v1/cohorts/{id}', `/v1/cohorts/${id}`],
      ['/v1/cohorts/{id}/export', `/v1/cohorts/${id}/export`],
      ['/v1/cohorts/{id}/outings', `/v1/cohorts/${id}/outings`],
      ['/v1/cohorts/{id}/outings/{outingId}', `/v1/cohorts/${id}/outings/${byHand.json.id}`],
      ['/v1/cohorts/{id}/shortlist', `/v1/cohorts/${id}/shortlist?date=2026-07-11`],
      ['/v1/cohorts/{id}/shortlist', `/v1/cohorts/${id}/shortlist?date=2026-12-21&units=us`],
      ['/v1/cohorts/{id}/shortlist', `/v1/cohorts/${id}/shortlist?date=never`],
      ['/v1/cohorts/{id}/routes/{routeId}/fit', `/v1/cohorts/${id}/routes/${routeId}/fit?date=2026-07-11`],
      ...plans,
      ['/v1/settings', '/v1/settings'],
      ['/v1/openapi.json', '/v1/openapi.json'],
      ['/livez', '/livez'],
      ['/readyz', '/readyz'],
    ] as const) {
      holds('get', path, await ask(app, { url }));
    }
  });

  it('names all media types of an answer that comes in several', async () => {
    const { paths } = await documentOf();
    const typesOf = (path: string) => Object.keys(paths[path]?.get?.responses[200]?.content ?? {});
    expect(typesOf('/v1/cohorts/{id}/routes/{routeId}/trip-plan')).toEqual([
      'application/json',
      'text/html',
      'application/gpx+xml',
    ]);
    expect(typesOf('/v1/routes/{id}.gpx')).toEqual(['application/gpx+xml']);
  });

  it('allows nothing in answers that it does not name', async () => {
    const document = await documentOf();
    const route = document.components.schemas.Route as { additionalProperties: unknown };
    expect(route.additionalProperties).toBe(false);
  });
});
