import { describe, expect, it } from 'vitest';
import { codes, collection, feature, line, positions, read, readOne, refused } from './samples.ts';

const json = (value: unknown): string => JSON.stringify(value);
const open = (value: unknown) => readOne(json(value));
const fault = (value: unknown) => refused(json(value));

describe('GeoJSON files', () => {
  it('reads every kind of line: bare, feature, collection, several parts', () => {
    for (const value of [line(), feature(line()), collection(feature(line()))]) {
      expect(open(value).segments[0]?.map((p) => [p.lonDeg, p.latDeg])).toEqual(positions());
    }
    const parts = open({
      type: 'MultiLineString',
      coordinates: [
        positions(5),
        [
          [-30.2, 46.2],
          [-30.2, 46.2002],
        ],
      ],
    });
    expect(parts.segments.map((segment) => segment.length)).toEqual([5, 2]);
    expect(codes(parts)).toContain('gap');
    expect(read(json(collection(feature(line()), feature(line()))))).toHaveLength(2);
  });

  it('takes the third number as the written height, and leaves 0 and null what they are', () => {
    const track = open(
      line([
        [-30.2, 46.1, 0],
        [-30.2, 46.1002, null],
        [-30.2, 46.1004],
        [-30.2, 46.1006, 812.5],
      ]),
    );
    expect(track.segments[0]?.map((p) => p.elevationM)).toEqual([0, null, null, 812.5]);
  });

  it('B1: a lone brace is malformed, with line and column', () => {
    const error = refused('{');
    expect(error.code).toBe('json-malformed');
    expect(error.place).toMatchObject({ line: 1, column: 2 });
  });

  it('B2: NaN in coordinates is malformed', () => {
    const error = refused('{"type":"LineString",\n"coordinates":[[NaN,46.1],[1,2]]}');
    expect(error.code).toBe('json-malformed');
    expect(error.place).toMatchObject({ line: 2, column: 17 });
    expect(error.message).toContain('NaN');
  });

  it('B3: 1e400 is no finite coordinate', () => {
    const error = refused('{"type":"LineString","coordinates":[[1e400,46.1],[1,2]]}');
    expect(error.code).toBe('bad-coordinate');
    expect(error.place.pointer).toBe('/coordinates/0/0');
    expect(refused('{"type":"LineString","coordinates":[[1,46.1,1e400],[1,2]]}').place.pointer).toBe(
      '/coordinates/0/2',
    );
  });

  it('B4: the case of a type matters, and the right one is shown', () => {
    const error = fault({ type: 'linestring', coordinates: positions() });
    expect(error.code).toBe('geojson-type');
    expect(error.message).toContain('"LineString"');
    expect(fault({ type: 'Curve' }).code).toBe('geojson-type');
    expect(fault({}).code).toBe('geojson-type');
    expect(fault({ type: 7 }).code).toBe('geojson-type');
  });

  it('B5: points and areas alone are no line', () => {
    expect(fault({ type: 'Point', coordinates: [1, 2] }).code).toBe('no-line');
    expect(fault(feature({ type: 'Polygon', coordinates: [positions(4)] })).code).toBe('no-line');
  });

  it('B5: points and areas beside a line are ignored with a note', () => {
    const track = open(collection(feature({ type: 'Point', coordinates: 'whatever' }), feature(line())));
    expect(codes(track)).toContain('not-a-line-ignored');
  });

  it('B6: features without geometry alone are no line, beside a line they are noted', () => {
    expect(fault(feature(null)).code).toBe('no-line');
    expect(codes(open(collection(feature(null), feature(line()))))).toContain('feature-dropped');
    expect(fault(line([])).code).toBe('no-line');
  });

  it('B7: a line of one position is no line, and is pointed at', () => {
    const error = fault(feature(line([[-30.2, 46.1]])));
    expect(error.code).toBe('no-line');
    expect(error.place.pointer).toBe('/geometry/coordinates');
  });

  it('B8: positions that are no two numbers are pointed at', () => {
    const bad: [unknown, string][] = [
      [[1], '/coordinates/1'],
      [['1', '2'], '/coordinates/1/0'],
      [[null, 2], '/coordinates/1/0'],
      [[1, true], '/coordinates/1/1'],
      ['1,2', '/coordinates/1'],
      [{ lon: 1 }, '/coordinates/1'],
      [[[1, 2]], '/coordinates/1'],
    ];
    for (const [position, pointer] of bad) {
      const error = fault(line([[-30.2, 46.1], position, [-30.2, 46.2]]));
      expect(error.code).toBe('bad-coordinate');
      expect(error.place.pointer).toBe(pointer);
    }
    expect(fault(line('x')).place.pointer).toBe('/coordinates');
    expect(fault({ type: 'LineString' }).code).toBe('bad-coordinate');
  });

  it('B9: a position of five numbers is read with a note', () => {
    const track = open(
      line([
        [-30.2, 46.1, 5, 6, 7],
        [-30.2, 46.1002],
      ]),
    );
    expect(codes(track)).toContain('extra-numbers-ignored');
    expect(track.segments[0]?.[0]?.elevationM).toBe(5);
  });

  it('B10: a latitude that can only be a longitude is refused with a hint', () => {
    const error = fault(
      line([
        [46.1, 130.2],
        [46.2, 130.2],
      ]),
    );
    expect(error.code).toBe('bad-coordinate');
    expect(error.place.pointer).toBe('/coordinates/0/1');
    expect(error.message).toContain('swapped');
  });

  it('B11: another coordinate system is refused by name, wherever it stands', () => {
    const crs = (name: unknown) => ({ type: 'name', properties: { name } });
    const error = fault({ ...line(), crs: crs('urn:ogc:def:crs:EPSG::3857') });
    expect(error.code).toBe('unsupported-crs');
    expect(error.message).toContain('3857');
    expect(fault({ ...collection(feature(line())), crs: crs('urn:ogc:def:crs:EPSG::4269') }).code).toBe(
      'unsupported-crs',
    );
    expect(fault(collection({ ...feature(line()), crs: crs(7) })).place.pointer).toBe('/features/0/crs');
    expect(fault({ ...line(), crs: 'EPSG:4326' }).code).toBe('unsupported-crs');
  });

  it('B12: a crs member that names WGS 84 is accepted with a note', () => {
    for (const name of ['urn:ogc:def:crs:OGC:1.3:CRS84', 'EPSG:4326', 'urn:ogc:def:crs:EPSG::4326']) {
      expect(codes(open({ ...line(), crs: { type: 'name', properties: { name } } }))).toContain('crs-member');
    }
    expect(codes(open({ ...line(), crs: null }))).toEqual(['name-missing']);
  });

  it('B13: a collection of lines becomes one route', () => {
    const track = open(
      feature({
        type: 'GeometryCollection',
        geometries: [
          line(),
          { type: 'Point', coordinates: [1, 2] },
          line([
            [-30.2, 46.2],
            [-30.2, 46.2002],
          ]),
        ],
      }),
    );
    expect(track.segments.map((segment) => segment.length)).toEqual([60, 2]);
  });

  it('B14: nested collections are too deep, one level or fifty', () => {
    const nest = (levels: number): object =>
      levels === 0 ? line() : { type: 'GeometryCollection', geometries: [nest(levels - 1)] };
    expect(fault(nest(2)).code).toBe('geojson-depth');
    expect(fault(nest(2)).place.pointer).toBe('/geometries/0');
    expect(fault(nest(50)).code).toBe('geojson-depth');
  });

  it('B15: 500,000 nested arrays are too deep, alone or inside a feature', () => {
    const nested = '['.repeat(500_000) + ']'.repeat(500_000);
    expect(refused(nested).code).toBe('geojson-depth');
    expect(refused(`{"type":"LineString","coordinates":${nested}}`).code).toBe('geojson-depth');
    expect(refused(`{"type":"Feature","properties":{"x":${nested}},"geometry":null}`).code).toBe(
      'geojson-depth',
    );
    expect(refused('[{"a":'.repeat(700_000)).code).toBe('geojson-depth');
  });

  it('B16: keys that reach for a prototype are refused with a pointer', () => {
    const tail = `"type":"LineString","coordinates":${json(positions(3))}`;
    const error = refused(`{"a":[{"__proto__":{"x":1}}],${tail}}`);
    expect(error.code).toBe('json-forbidden-key');
    expect(error.place.pointer).toBe('/a/0/__proto__');
    expect(refused(`{"\\u005f_proto__":1,${tail}}`).code).toBe('json-forbidden-key');
    expect(refused(`{"constructor":{"prototype":{}},${tail}}`).code).toBe('json-forbidden-key');
    expect(read(`{"constructor":"trail crew",${tail}}`)).toHaveLength(1);
    expect(({} as Record<string, unknown>).x).toBeUndefined();
  });

  it('B17: of two coordinates keys the last one counts', () => {
    const track = readOne(
      `{"type":"LineString","coordinates":[[1,2],[3,4]],"coordinates":${json(positions(4))}}`,
    );
    expect(track.segments[0]).toHaveLength(4);
  });

  it('B18: null properties and a numeric id are legal', () => {
    const track = open({ ...feature(line()), id: 7 });
    expect(track.attributes).toBeNull();
    expect(track.name).toBe('Unnamed route');
  });

  it('B19: properties of other programs are neither read nor kept', () => {
    const track = open(
      feature(line(), { id: 'r1', role: 'coordinator', score: 1, name: 'West Ridge', rockClass: '2' }),
    );
    expect(track.attributes).toEqual({ name: 'West Ridge', rockClass: '2' });
    expect(JSON.stringify(track)).not.toContain('coordinator');
  });

  it('B20: more than 10 MiB are refused before parsing', () => {
    expect(refused(`{"a":"${'x'.repeat(10 * 1024 * 1024)}`).code).toBe('body-too-large');
  });

  it('B21: a collection without features is no line', () => {
    expect(fault(collection()).code).toBe('no-line');
    expect(fault({ type: 'FeatureCollection' }).code).toBe('geojson-type');
    expect(fault(collection(line())).code).toBe('geojson-type');
    expect(fault(collection(null)).place.pointer).toBe('/features/0');
  });

  it('B22: a bbox that lies changes nothing', () => {
    expect(open({ ...line(), bbox: [0, 0, 1, 1] }).segments).toEqual(open(line()).segments);
  });

  it('B23: TopoJSON, one JSON text a line, and text sequences get a hint', () => {
    expect(fault({ type: 'Topology', objects: {}, arcs: [] }).message).toContain('TopoJSON');
    const lines = `${json(feature(line()))}\n${json(feature(line()))}\n`;
    for (const text of [lines, `\u001e${lines}`]) {
      expect(refused(text).code).toBe('geojson-type');
      expect(refused(text).message).toContain('FeatureCollection');
    }
  });

  it('B24: longitudes of 185° are turned into range with a note, and a line across 180° stays whole', () => {
    const beyond = open(
      line([
        [185, 46.1],
        [185, 46.1002],
      ]),
    );
    expect(beyond.segments[0]?.map((p) => p.lonDeg)).toEqual([-175, -175]);
    expect(codes(beyond)).toContain('longitude-normalised');
    const across = open(
      line([
        [179.999, 46.1],
        [180.001, 46.1],
        [180.003, 46.1],
      ]),
    );
    expect(across.segments[0]?.map((p) => p.lonDeg)).toEqual([179.999, 180.001, 180.003]);
    expect(
      fault(
        line([
          [361, 46.1],
          [362, 46.1],
        ]),
      ).code,
    ).toBe('bad-coordinate');
  });

  it('B25: half a surrogate pair in a text is refused', () => {
    const error = refused(`{"type":"Feature","properties":{"name":"a\\ud800b"},"geometry":${json(line())}}`);
    expect(error.code).toBe('bad-text');
    expect(error.place.pointer).toBe('/properties/name');
    const notes = refused(`{"type":"Feature","properties":{"notes":"\\udc00"},"geometry":${json(line())}}`);
    expect(notes.place.pointer).toBe('/properties/notes');
  });

  it('refuses a known property with a bad value, and points at it', () => {
    const properties = { trailhead: { roadClearance: 'low' } };
    const error = fault(collection(feature(line()), feature(line(), properties)));
    expect(error.code).toBe('bad-attribute');
    expect(error.place.pointer).toBe('/features/1/properties/trailhead/roadClearance');
    expect(fault(feature(line(), { name: 7 })).place.pointer).toBe('/properties/name');
    expect(fault(feature(line(), { name: 'x'.repeat(201) })).code).toBe('name-too-long');
    expect(fault(feature(line(), [])).code).toBe('geojson-type');
  });

  it('tells of a property that is nearly a known one', () => {
    const track = open(
      feature(line(), { closure: [], rock_class: '4', gid: 1, name_en: 'x', highway: 'path' }),
    );
    expect(codes(track).filter((code) => code === 'property-not-known')).toHaveLength(2);
    expect(track.attributes).toBeNull();
  });

  it('accepts a byte order mark, and refuses a list at the top', () => {
    expect(readOne(`\uFEFF${json(line())}`).segments[0]).toHaveLength(60);
    expect(refused(json([line()])).code).toBe('geojson-type');
    expect(refused('nothing', { mediaType: 'application/geo+json' }).code).toBe('json-malformed');
  });

  it('keeps the limits on points, parts and lines', () => {
    const many = Array.from({ length: 100_001 }, (_, i) => [-30.2, Number((46 + i * 1e-5).toFixed(5))]);
    expect(fault(line(many)).place).toMatchObject({ limit: 100_000, found: 100_001 });
    expect(fault({ type: 'MultiLineString', coordinates: Array(1001).fill(positions(2)) }).code).toBe(
      'too-many-segments',
    );
    expect(fault(collection(...Array(51).fill(feature(line())))).code).toBe('too-many-routes');
  });
});
