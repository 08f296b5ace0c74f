import { describe, expect, it } from 'vitest';
import type { App } from '../../src/http/deps.ts';
import { collection, feature, gpxOf, line, positions, walk } from '../ingest/samples.ts';
import { type Answer, ask, eachService, expectRefused, post } from './service.ts';

const GEOJSON = 'application/geo+json';
const send = (app: App, body: unknown): Promise<Answer> =>
  post(app, '/v1/routes', typeof body === 'string' ? body : JSON.stringify(body), GEOJSON);

const withPosition = (position: string): string => JSON.stringify(line()).replace('[[', `[${position},[`);
const nested = (depth: number): object =>
  depth === 0 ? line() : { type: 'GeometryCollection', geometries: [nested(depth - 1)] };
const withCrs = (name: string): object => ({
  ...collection(feature(line())),
  crs: { type: 'name', properties: { name } },
});

const REFUSED: readonly (readonly [string, string, () => unknown, number, string])[] = [
  ['B1', 'an open brace', () => '{', 400, 'json-malformed'],
  ['B2', 'NaN as a coordinate', () => withPosition('[NaN,46.0999]'), 400, 'json-malformed'],
  ['B3', 'a number beyond all', () => withPosition('[1e400,46.0999]'), 422, 'bad-coordinate'],
  ['B4', 'a type in lower case', () => ({ ...line(), type: 'linestring' }), 422, 'geojson-type'],
  ['B5', 'a point', () => feature({ type: 'Point', coordinates: [-30.2, 46.1] }), 422, 'no-line'],
  ['B6', 'no geometry', () => feature(null), 422, 'no-line'],
  ['B7', 'a line of one position', () => line(positions(1)), 422, 'no-line'],
  ['B8', 'a position of one number', () => withPosition('[1]'), 422, 'bad-coordinate'],
  ['B8', 'a position of texts', () => withPosition('["1","2"]'), 422, 'bad-coordinate'],
  ['B8', 'a position with null', () => withPosition('[null,2]'), 422, 'bad-coordinate'],
  [
    'B10',
    'latitude first, inside the tiles',
    () => line(positions().map(([lon, lat]) => [lat, lon])),
    422,
    'coordinates-look-swapped',
  ],
  ['B11', 'metres of a map projection', () => withCrs('EPSG:3857'), 422, 'unsupported-crs'],
  ['B14', 'collections nested 50 deep', () => nested(50), 422, 'geojson-depth'],
  [
    'B15',
    'half a million open brackets',
    () => `{"type":"LineString","coordinates":${'['.repeat(500_000)}`,
    422,
    'geojson-depth',
  ],
  [
    'B16',
    'a __proto__ key',
    () => `{"__proto__":{"x":1},${JSON.stringify(line()).slice(1)}`,
    400,
    'json-forbidden-key',
  ],
  [
    'B16',
    'a constructor.prototype key',
    () => `{"constructor":{"prototype":{}},${JSON.stringify(line()).slice(1)}`,
    400,
    'json-forbidden-key',
  ],
  ['B20', 'a body of 60 MB', () => `{"x":"${'y'.repeat(60 * 1024 * 1024)}"}`, 413, 'body-too-large'],
  ['B21', 'no feature', () => collection(), 422, 'no-line'],
  ['B23', 'TopoJSON', () => ({ type: 'Topology', objects: {}, arcs: [] }), 422, 'geojson-type'],
  [
    'B23',
    'one JSON text a line',
    () => `${JSON.stringify(feature(line()))}\n${JSON.stringify(feature(line()))}`,
    422,
    'geojson-type',
  ],
  [
    'B25',
    'half a character',
    () => JSON.stringify(feature(line(), { name: 'x' })).replace('"x"', '"\\ud800"'),
    422,
    'bad-text',
  ],
];

const STORED: readonly (readonly [string, string, () => unknown])[] = [
  ['B9', 'positions of five numbers', () => line(positions().map((position) => [...position, 1, 2, 3]))],
  ['B12', 'the CRS that GeoJSON has anyway', () => withCrs('urn:ogc:def:crs:OGC:1.3:CRS84')],
  ['B13', 'a collection of lines', () => ({ type: 'GeometryCollection', geometries: [line()] })],
  ['B18', 'properties null and a number as id', () => ({ ...feature(line()), id: 7 })],
  ['B22', 'a box that lies', () => ({ ...feature(line()), bbox: [0, 0, 1, 1] })],
];

describe('bad GeoJSON bodies over HTTP', () => {
  const service = eachService();

  it.each(REFUSED)('%s: refuses %s and keeps nothing', async (_row, _what, body, status, code) => {
    await expectRefused(service.app, await send(service.app, body()), status, code);
  });

  it.each(STORED)('%s: stores %s', async (_row, _what, body) => {
    const answer = await send(service.app, body());
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes[0]?.measures.distanceM).toBeGreaterThan(1000);
  });

  it('B7, B8: points at the position', async () => {
    const answer = await send(service.app, withPosition('[1]'));
    expect(answer.json.errors[0]?.pointer).toContain('/coordinates/0');
  });

  it('B17: takes the last of two equal keys', async () => {
    const twice = `{"coordinates":[[0,0],[1,1]],${JSON.stringify(line()).slice(1)}`;
    const answer = await send(service.app, twice);
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes[0]?.trailhead).toMatchObject({ lat: 46.1, lon: -30.2 });
  });

  it('B19: does not let a client set what the store sets', async () => {
    const answer = await send(
      service.app,
      feature(line(), { id: 'rt_mine', role: 'coordinator', score: 1, name: 'Ridge' }),
    );
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes[0]?.id).toMatch(/^rt_[A-Za-z0-9_-]{22}$/);
    expect(answer.json.routes[0]?.attributes).toEqual({ name: 'Ridge' });
  });

  it('B24: brings longitudes over 180° back', async () => {
    const unwrapped = positions().map(([lon = 0, lat = 0]) => [lon + 360, lat]);
    const answer = await send(service.app, line(unwrapped));
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes[0]?.trailhead.lon).toBeCloseTo(-30.2, 6);
  });

  it('D4: says that a GPX body does not become JSON by its Content-Type', async () => {
    const answer = await send(service.app, gpxOf(walk()));
    await expectRefused(service.app, answer, 400, 'json-malformed');
    expect(answer.json.detail).toContain('application/gpx+xml');
  });

  it('says the same the other way round', async () => {
    const answer = await post(service.app, '/v1/routes', JSON.stringify(line()), 'application/gpx+xml');
    await expectRefused(service.app, answer, 415, 'unsupported-media-type');
  });

  it('takes attributes from a feature’s properties, and a name from the query over them', async () => {
    const body = feature(line(), { name: 'Old', rockClass: '2', treelineM: 1500 });
    const answer = await post(service.app, '/v1/routes?name=New%20Name', JSON.stringify(body), GEOJSON);
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes[0]).toMatchObject({
      name: 'New Name',
      attributes: { name: 'New Name', rockClass: '2', treelineM: 1500 },
      measures: { treelineM: 1500, treelineSource: 'route' },
    });
    expect((await ask(service.app, { url: '/v1/routes' })).json.routes).toHaveLength(1);
  });
});
