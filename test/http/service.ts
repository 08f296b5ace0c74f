import { join } from 'node:path';
import type { InjectOptions } from 'fastify';
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import { type Context, openContext } from '../../src/app/context.ts';
import { DESIGN, type Design } from '../../src/design.ts';
import type { App } from '../../src/http/deps.ts';
import { buildApp } from '../../src/service.ts';
import { openStore, type Store } from '../../src/storage/store.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { gpx, seg, trk, trkpt } from '../ingest/samples.ts';
import { writeMountain } from '../support/mountain.ts';
import { tempFolder } from '../support/temp-folder.ts';

export const PUBLIC_URL = 'http://127.0.0.1:8787';
export const GPX = 'application/gpx+xml';
export const JSON_TYPE = 'application/json';
/** Mid-July 2026, the middle of the tests' season. */
export const NOW_MS = Date.UTC(2026, 6, 5, 12);

/** The whole service on a real store and a real tile, a fresh store for each test. */
export interface Service {
  app: App;
  store: Store;
  context: Context;
  surface: Surface;
  databaseFile: string;
}

export function eachService(design: Design = DESIGN): Service {
  const folder = tempFolder();
  const service = {} as Service;
  let made = 0;
  beforeAll(async () => {
    writeMountain(join(folder, 'mountain.tif'));
    service.surface = await openSurface([join(folder, 'mountain.tif')]);
  });
  beforeEach(async () => {
    made += 1;
    service.databaseFile = join(folder, `store-${made}.db`);
    service.store = openStore(service.databaseFile);
    const ground = { surface: service.surface, design };
    service.context = openContext({ store: service.store, ground, nowMs: () => NOW_MS });
    service.app = await buildApp({ ...service, publicUrl: PUBLIC_URL });
  });
  afterEach(async () => {
    await service.app.close();
    await service.store.close();
  });
  afterAll(() => service.surface.close());
  return service;
}

/** The fields of all answers that tests look into. That answers are whole is held to their schemas elsewhere. */
interface Looked {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  readonly code: string;
  readonly detail: string;
  readonly instance: string;
  readonly status: number | string;
  readonly errors: readonly {
    readonly pointer?: string;
    readonly parameter?: string;
    readonly byteOffset?: number;
  }[];
  readonly routes: readonly Looked[];
  readonly route: Looked;
  readonly cohorts: readonly Looked[];
  readonly outings: readonly Looked[];
  readonly warnings: readonly { readonly code: string; readonly text: string }[];
  readonly notes: readonly { readonly code: string; readonly text: string }[];
  readonly attributes: object;
  readonly measures: {
    readonly distanceM: number;
    readonly demCoverage: number;
    readonly gainM: { readonly value: number };
  };
  readonly trailhead: { readonly lat: number; readonly lon: number };
  readonly home: { readonly lat: number; readonly lon: number };
  readonly members: readonly string[] | null;
  readonly rank: number | null;
  readonly verdict: string;
  readonly profile: readonly (readonly (number | null)[])[];
  readonly movingMin: number | null;
  readonly distanceM: number;
  readonly gainM: number;
}

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | number | string[] | undefined>>;
  readonly text: string;
  /** Without one: empty. */
  readonly json: Looked;
}

export async function ask(app: App, options: InjectOptions): Promise<Answer> {
  const answer = await app.inject(options);
  const isJson = String(answer.headers['content-type'] ?? '').includes('json') && answer.body !== '';
  return {
    status: answer.statusCode,
    headers: answer.headers,
    text: answer.body,
    json: (isJson ? answer.json() : {}) as Looked,
  };
}

export function post(app: App, url: string, body: string | Buffer, contentType: string): Promise<Answer> {
  return ask(app, { method: 'POST', url, headers: { 'content-type': contentType }, payload: body });
}

export const sendGpx = (app: App, body: string | Buffer): Promise<Answer> =>
  post(app, '/v1/routes', body, GPX);

export const sendJson = (app: App, url: string, value: unknown): Promise<Answer> =>
  post(app, url, JSON.stringify(value), JSON_TYPE);

/** A problem document with this code, and nothing kept. */
export async function expectRefused(app: App, answer: Answer, status: number, code: string): Promise<void> {
  expect({ status: answer.status, code: answer.json.code, body: answer.text }).toMatchObject({
    status,
    code,
  });
  expect(answer.headers['content-type']).toContain('application/problem+json');
  expect(answer.json.instance).toMatch(/^urn:uuid:[0-9a-f-]{36}$/);
  const list = await ask(app, { url: '/v1/routes' });
  expect(list.json).toEqual({ routes: [] });
}

/** A way up the mountain, 25 points from the south to its top. */
export function wayUp(name = 'South Way', shiftLon = 0): string {
  const points = Array.from({ length: 25 }, (_, i) =>
    trkpt((46.08 + i * 0.0008).toFixed(4), -30.2 + shiftLon),
  );
  return gpx(trk(`<name>${name}</name>${seg(points.join(''))}`));
}

/** A recorded walk on the same way, up and down, a point a minute. */
export function walkWithClock(): string {
  const up = Array.from({ length: 49 }, (_, i) => (46.08 + i * 0.0004).toFixed(4));
  const points = [...up, ...up.slice(0, -1).reverse()].map((lat, i) =>
    trkpt(lat, -30.2, `<time>${new Date(Date.UTC(2026, 5, 20, 8, i)).toISOString()}</time>`),
  );
  return gpx(trk(`<name>Training day</name>${seg(points.join(''))}`));
}

export const COHORT = {
  name: 'Plover Juniors',
  participants: 9,
  leaders: 2,
  ageBand: '12-14',
  members: ['m1', 'm2', 'zq7x'],
  home: { lat: 46.1234, lon: -30.2345, name: 'harbour hall' },
  comfortClass: '2',
  sleepElevationM: 900,
};

export async function addCohort(app: App, more: object = {}): Promise<{ id: string; etag: string }> {
  const answer = await sendJson(app, '/v1/cohorts', { ...COHORT, ...more });
  expect(answer.status, answer.text).toBe(201);
  return { id: answer.json.id, etag: String(answer.headers.etag) };
}

export async function addRoute(app: App, body = wayUp()): Promise<{ id: string; etag: string }> {
  const answer = await sendGpx(app, body);
  expect(answer.status, answer.text).toBe(201);
  const id = answer.json.routes[0]?.id ?? '';
  return { id, etag: `"${id}-1"` };
}
