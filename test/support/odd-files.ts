/**
 * Odd route files and the answer each one gets, whoever asks: rows of sections A and B of the list of inputs that real
 * programs and hostile people send. Coordinates lie on the demo's tiles.
 */
import { gzipSync } from 'node:zlib';
import {
  collection,
  feature,
  gpx,
  gpxOf,
  line,
  positions,
  seg,
  trk,
  trkpt,
  walk,
} from '../ingest/samples.ts';

export interface OddFile {
  readonly row: string;
  readonly what: string;
  readonly ending: 'gpx' | 'geojson';
  readonly content: string | Uint8Array;
  /** Error code and status; or the note that an accepted file must carry, `null` for none in particular. */
  readonly answer: { readonly code: string; readonly status: number } | { readonly note: string | null };
}

const refusedAs = (code: string, status = 422) => ({ code, status });
const accepted = (note: string | null = null) => ({ note });

const timed = (times: readonly string[]): string =>
  gpxOf(times.map((time, i) => trkpt(46.1 + i * 0.0002, -30.2, `<time>${time}</time>`)).join(''));
const lon = (value: number): string => (value > 180 ? value - 360 : value).toFixed(4);
const named = (name: string): string => gpxOf(walk(), `<name>${name}</name>`);
const json = (value: unknown): string => JSON.stringify(value);
const crs = (name: string) => ({ type: 'name', properties: { name } });
const nestedCollections = (levels: number): object =>
  levels === 0 ? line() : { type: 'GeometryCollection', geometries: [nestedCollections(levels - 1)] };
const bomb = `<!DOCTYPE gpx [<!ENTITY e0 "ha">${Array.from({ length: 10 }, (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`).join('')}]><gpx>&e10;</gpx>`;

type Row = readonly [string, string, string | Uint8Array, OddFile['answer']];

const GPX_ROWS: readonly Row[] = [
  ['A1', 'an empty body', '', refusedAs('empty-body', 400)],
  ['A2', 'no track and no route', '<gpx/>', refusedAs('no-line')],
  ['A3', 'waypoints alone', gpx('<wpt lat="46.1" lon="-30.2"/>'.repeat(5)), refusedAs('no-line')],
  ['A4', 'an empty segment', gpx(trk('<trkseg/>')), refusedAs('no-line')],
  ['A5', 'one point', gpxOf(trkpt(46.1, -30.2)), refusedAs('no-line')],
  [
    'A6',
    'one point beside a line',
    gpx(trk(seg(trkpt(46.09, -30.2)) + seg(walk()))),
    accepted('segment-dropped'),
  ],
  ['A7', 'cut short', gpxOf(walk()).slice(0, -30), refusedAs('xml-malformed', 400)],
  ['A8', 'a DOCTYPE', '<!DOCTYPE gpx><gpx/>', refusedAs('doctype-not-allowed')],
  ['A9', 'an entity bomb', bomb, refusedAs('doctype-not-allowed')],
  [
    'A10',
    'one large entity often',
    `<!DOCTYPE gpx [<!ENTITY b "${'x'.repeat(1e6)}">]><gpx>${'&b;'.repeat(1e4)}</gpx>`,
    refusedAs('doctype-not-allowed'),
  ],
  [
    'A11',
    'an external entity',
    '<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/passwd">]><gpx>&x;</gpx>',
    refusedAs('doctype-not-allowed'),
  ],
  [
    'A12',
    'a parameter entity',
    '<!DOCTYPE gpx [<!ENTITY % x SYSTEM "http://127.0.0.1:1/x.dtd"> %x;]><gpx/>',
    refusedAs('doctype-not-allowed'),
  ],
  ['A13', 'a million character references', named('&#65;'.repeat(1_000_000)), refusedAs('xml-limits')],
  [
    'A14',
    'a depth of 200,000',
    `<gpx>${'<a>'.repeat(200_000)}${'</a>'.repeat(200_000)}</gpx>`,
    refusedAs('xml-limits'),
  ],
  [
    'A15',
    '10,000 attributes',
    gpx(`<trk ${Array.from({ length: 10_000 }, (_, i) => `a${i}="1"`).join(' ')}/>`),
    refusedAs('xml-limits'),
  ],
  [
    'A16',
    'a comment of 20 MB',
    `<gpx><!--${'x'.repeat(20_000_000)}--></gpx>`,
    refusedAs('body-too-large', 413),
  ],
  [
    'A17',
    'an attribute twice',
    gpxOf('<trkpt lat="46.1" lat="46.2" lon="-30.2"/>'),
    refusedAs('xml-malformed', 400),
  ],
  ['A18', 'two roots', '<gpx/><gpx/>', refusedAs('xml-malformed', 400)],
  ['A18', 'text after the root', `${gpxOf(walk())}trailing`, refusedAs('xml-malformed', 400)],
  ['A19', 'a control character', named('a\u0001b'), refusedAs('xml-malformed', 400)],
  ['A20', 'a byte order mark', `\uFEFF${gpxOf(walk())}`, accepted()],
  [
    'A21',
    'UTF-16',
    Buffer.from(`\uFEFF${gpxOf(walk()).replace('"1.0"?', '"1.0" encoding="UTF-16"?')}`, 'utf16le'),
    accepted(),
  ],
  ['A22', 'a byte that is not UTF-8', Buffer.from(named('Fen\u00e9tre'), 'latin1'), refusedAs('encoding')],
  [
    'A23',
    'ISO-8859-1',
    Buffer.from(named('Fen\u00eatre').replace('?>', ' encoding="ISO-8859-1"?>'), 'latin1'),
    accepted(),
  ],
  ['A24', 'UTF-7', gpxOf(walk()).replace('?>', ' encoding="UTF-7"?>'), refusedAs('encoding')],
  ['A25', 'an HTML page', '<!DOCTYPE html><html><body>login</body></html>', refusedAs('not-gpx')],
  ['A26', 'KML', '<kml xmlns="http://www.opengis.net/kml/2.2"/>', refusedAs('not-gpx')],
  ['A27', 'no namespace', `<gpx>${trk(seg(walk()))}</gpx>`, accepted('nonstandard-namespace')],
  [
    'A28',
    'an undeclared prefix',
    gpxOf(walk(59) + trkpt(46.1118, -30.2, '<extensions><x:hr>9</x:hr></extensions>')),
    accepted('undeclared-prefix'),
  ],
  ['A29', 'lat="undefined"', gpxOf(trkpt('undefined', -30.2) + walk()), refusedAs('bad-coordinate')],
  ['A30', 'a decimal comma', gpxOf(walk(2) + trkpt('47,5', -30.2)), refusedAs('bad-coordinate')],
  ['A31', 'a latitude of 91', gpxOf(walk() + trkpt(91, -30.2)), refusedAs('bad-coordinate')],
  ['A31', 'a longitude of 181', gpxOf(walk() + trkpt(46.1, 181)), refusedAs('bad-coordinate')],
  ...['1e400', 'Infinity', 'NaN', '0x10', ''].map(
    (text): Row => ['A32', `lat="${text}"`, gpxOf(walk() + trkpt(text, -30.2)), refusedAs('bad-coordinate')],
  ),
  [
    'A33',
    'signs and bare points',
    gpxOf(trkpt('+46.1', '-30.2') + trkpt('46.12', '-30.20') + trkpt('4.613E+1', '-30.2')),
    accepted(),
  ],
  ['A34', 'all points alike', gpxOf(trkpt(46.1, -30.2).repeat(20)), refusedAs('zero-length')],
  [
    'A35',
    '100,000 repeats and a line',
    gpxOf(trkpt('46.1000', -30.2).repeat(100_000) + walk()),
    accepted('duplicates-removed'),
  ],
  [
    'A36',
    'empty heights',
    gpxOf(trkpt(46.1, -30.2, '<ele></ele>') + trkpt(46.11, -30.2, '<ele>nan</ele>')),
    accepted(),
  ],
  [
    'A37',
    'heights all 0',
    gpxOf(
      Array.from({ length: 60 }, (_, i) => trkpt((46.1 + i * 0.0002).toFixed(4), -30.2, '<ele>0</ele>')).join(
        '',
      ),
    ),
    accepted('ele-suspect'),
  ],
  [
    'A39',
    'a time without a zone',
    timed(['2026-07-11T06:00:00', '2026-07-11T06:01:00']),
    accepted('time-zone-unknown'),
  ],
  [
    'A39',
    'offsets and milliseconds',
    timed(['2026-07-11T00:00:01-0600', '2026-07-11T06:00:03.123Z']),
    accepted(),
  ],
  [
    'A40',
    'unreadable times',
    timed(['yesterday', '0000-01-01T00:00:00Z', '2026-07-11T24:00:00Z']),
    accepted('time-ignored'),
  ],
  [
    'A41',
    'times going back',
    timed(['2026-07-11T06:05:00Z', '2026-07-11T06:00:00Z', '2026-07-11T06:09:00Z']),
    accepted('time-not-monotonic'),
  ],
  [
    'A42',
    'gaps of 30 m and 5 km',
    gpx(trk(seg(walk(10, 46.1)) + seg(walk(10, 46.10207)) + seg(walk(10, 46.149)))),
    accepted('gap'),
  ],
  [
    'A43',
    'a line across 180°',
    gpxOf(Array.from({ length: 21 }, (_, i) => trkpt(52, lon(179.99 + i * 0.001))).join('')),
    accepted(),
  ],
  [
    'A44',
    'near the pole',
    gpxOf([0, 2, 4, 6, 8].map((degrees) => trkpt(89.999, degrees)).join('')),
    accepted(),
  ],
  [
    'A45',
    '100,001 points',
    gpxOf(
      Array.from(
        { length: 100_001 },
        (_, i) => `<trkpt lat="${(46 + i * 1e-5).toFixed(5)}" lon="-30.2"/>`,
      ).join(''),
    ),
    refusedAs('too-many-points'),
  ],
  ['A46', '51 tracks', gpx(trk(seg(walk(3))).repeat(51)), refusedAs('too-many-routes')],
  [
    'A47',
    'a bad third track',
    gpx(trk(seg(walk())).repeat(2) + trk(seg(walk(2) + trkpt('x', 1)))),
    refusedAs('bad-coordinate'),
  ],
  ['A48', 'a name of 10,000 characters', named('x'.repeat(10_000)), refusedAs('name-too-long')],
  ['A48', 'a name of spaces', named('   '), accepted('name-missing')],
  ['A48', 'a name with direction overrides', named('\u202Eridge'), accepted()],
  ['A48', 'a name that is a script', named('&lt;script&gt;alert(1)&lt;/script&gt;'), accepted()],
  ['A48', 'a name that is a formula', named('=1+1'), accepted()],
  [
    'A49',
    'one point 3,000 km away',
    gpxOf(walk(30) + trkpt(20, -30.2) + walk(30, 46.106)),
    accepted('implausible-jump'),
  ],
  [
    'A50',
    'a style sheet to fetch',
    gpxOf(walk()).replace('?>', '?><?xml-stylesheet href="http://127.0.0.1:1/x.xsl"?>'),
    accepted(),
  ],
  ['A51', 'gzip', gzipSync(gpxOf(walk())), refusedAs('compressed-not-supported', 415)],
  ['A52', 'a picture', Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'), refusedAs('not-gpx')],
];

const GEOJSON_ROWS: readonly Row[] = [
  ['B1', 'a lone brace', '{', refusedAs('json-malformed', 400)],
  ['B2', 'NaN', '{"type":"LineString","coordinates":[[NaN,46.1],[1,2]]}', refusedAs('json-malformed', 400)],
  ['B3', '1e400', '{"type":"LineString","coordinates":[[1e400,46.1],[1,2]]}', refusedAs('bad-coordinate')],
  ['B4', 'linestring', json({ type: 'linestring', coordinates: positions() }), refusedAs('geojson-type')],
  ['B5', 'a point alone', json({ type: 'Point', coordinates: [1, 2] }), refusedAs('no-line')],
  ['B6', 'no geometry', json(feature(null)), refusedAs('no-line')],
  ['B7', 'one position', json(feature(line([[-30.2, 46.1]]))), refusedAs('no-line')],
  ...[[1], ['1', '2'], [null, 2]].map(
    (position): Row => [
      'B8',
      `a position ${json(position)}`,
      json(line([[-30.2, 46.1], position])),
      refusedAs('bad-coordinate'),
    ],
  ),
  [
    'B9',
    'a position of five',
    json(
      line([
        [-30.2, 46.1, 5, 6, 7],
        [-30.2, 46.12],
      ]),
    ),
    accepted('extra-numbers-ignored'),
  ],
  [
    'B10',
    'latitude and longitude swapped',
    json(line(positions().map(([x, y]) => [y, x]))),
    refusedAs('coordinates-look-swapped'),
  ],
  [
    'B11',
    'another coordinate system',
    json({ ...line(), crs: crs('urn:ogc:def:crs:EPSG::3857') }),
    refusedAs('unsupported-crs'),
  ],
  ['B12', 'CRS84', json({ ...line(), crs: crs('urn:ogc:def:crs:OGC:1.3:CRS84') }), accepted('crs-member')],
  ['B13', 'a collection of lines', json({ type: 'GeometryCollection', geometries: [line()] }), accepted()],
  ['B14', 'collections 50 deep', json(nestedCollections(50)), refusedAs('geojson-depth')],
  ['B15', '500,000 nested arrays', '['.repeat(500_000) + ']'.repeat(500_000), refusedAs('geojson-depth')],
  [
    'B16',
    '__proto__',
    `{"a":{"__proto__":{}},"type":"LineString","coordinates":${json(positions(3))}}`,
    refusedAs('json-forbidden-key', 400),
  ],
  [
    'B17',
    'coordinates twice',
    `{"type":"LineString","coordinates":[[1,2],[3,4]],"coordinates":${json(positions())}}`,
    accepted(),
  ],
  ['B18', 'null properties, a number as id', json({ ...feature(line()), id: 7 }), accepted()],
  [
    'B19',
    'a role among the properties',
    json(feature(line(), { role: 'coordinator', name: 'West Ridge' })),
    accepted(),
  ],
  ['B20', '60 MB', `{"type":"LineString","x":"${'x'.repeat(60_000_000)}"}`, refusedAs('body-too-large', 413)],
  ['B21', 'no features', json(collection()), refusedAs('no-line')],
  ['B22', 'a bbox that lies', json({ ...line(), bbox: [0, 0, 1, 1] }), accepted()],
  ['B23', 'TopoJSON', json({ type: 'Topology', objects: {}, arcs: [] }), refusedAs('geojson-type')],
  [
    'B24',
    'longitudes of 185°',
    json(
      line([
        [185, 46.1],
        [185, 46.12],
      ]),
    ),
    accepted('longitude-normalised'),
  ],
  [
    'B25',
    'half a surrogate pair',
    `{"type":"Feature","properties":{"name":"a\\ud800b"},"geometry":${json(line())}}`,
    refusedAs('bad-text'),
  ],
];

const rowsOf = (ending: OddFile['ending'], rows: readonly Row[]): OddFile[] =>
  rows.map(([row, what, content, answer]) => ({ row, what, ending, content, answer }));

export const ODD_FILES: readonly OddFile[] = [...rowsOf('gpx', GPX_ROWS), ...rowsOf('geojson', GEOJSON_ROWS)];
