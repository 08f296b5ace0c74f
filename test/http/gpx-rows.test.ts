import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { GPX_NS, gpx, gpxOf, seg, trk, trkpt, walk } from '../ingest/samples.ts';
import { TOP } from '../support/mountain.ts';
import { ask, eachService, expectRefused, GPX, post, sendGpx } from './service.ts';

const bomb = (levels: number): string => {
  const entities = Array.from({ length: levels }, (_, i) =>
    i === 0 ? '<!ENTITY e0 "ha">' : `<!ENTITY e${i} "${`&e${i - 1};`.repeat(10)}">`,
  );
  return `<?xml version="1.0"?><!DOCTYPE gpx [${entities.join('')}]>${gpx(`<metadata><name>&e${levels - 1};</name></metadata>`)}`;
};
const doctype = (inner: string): string => `<?xml version="1.0"?><!DOCTYPE gpx ${inner}>${gpxOf(walk())}`;
const point = (lat: string, lon = '-30.2'): string => gpxOf(`${trkpt(lat, lon)}${walk()}`);

/** Rows of the table of bad GPX files that are refused. */
const REFUSED: readonly (readonly [string, string, () => string | Buffer, number, string])[] = [
  ['A1', 'an empty body', () => '', 400, 'empty-body'],
  ['A2', 'a bare gpx element', () => '<gpx/>', 422, 'no-line'],
  ['A3', 'waypoints alone', () => gpx('<wpt lat="46.1" lon="-30.2"/>'.repeat(5)), 422, 'no-line'],
  ['A4', 'an empty segment', () => gpx(trk(seg(''))), 422, 'no-line'],
  ['A5', 'a segment of one point', () => gpxOf(trkpt(46.1, -30.2)), 422, 'no-line'],
  ['A7', 'a file cut off', () => gpxOf(walk()).slice(0, 900), 400, 'xml-malformed'],
  ['A8', 'a document type', () => doctype(''), 422, 'doctype-not-allowed'],
  ['A9', 'an entity bomb', () => bomb(10), 422, 'doctype-not-allowed'],
  [
    'A10',
    'a large entity used often',
    () => doctype(`[<!ENTITY a "${'x'.repeat(1e6)}">]`),
    422,
    'doctype-not-allowed',
  ],
  [
    'A11',
    'an external entity',
    () => doctype('[<!ENTITY a SYSTEM "file:///etc/passwd">]'),
    422,
    'doctype-not-allowed',
  ],
  [
    'A12',
    'a parameter entity',
    () => doctype('[<!ENTITY % x SYSTEM "http://192.0.2.1/x.dtd"> %x;]'),
    422,
    'doctype-not-allowed',
  ],
  [
    'A13',
    'a million character references',
    () => gpxOf(walk(), `<name>${'&#65;'.repeat(1e6)}</name>`),
    422,
    'xml-limits',
  ],
  ['A14', 'elements nested 200,000 deep', () => gpx('<a>'.repeat(200_000)), 422, 'xml-limits'],
  [
    'A15',
    'an element with 10,000 attributes',
    () => gpx(`<trk ${Array.from({ length: 10_000 }, (_, i) => `a${i}=""`).join(' ')}/>`),
    422,
    'xml-limits',
  ],
  [
    'A16',
    'a comment of 20 MB',
    () => Buffer.from(gpx(`<!--${'x'.repeat(20 * 1024 * 1024)}-->`)),
    413,
    'body-too-large',
  ],
  [
    'A17',
    'a coordinate given twice',
    () => gpxOf('<trkpt lat="46" lat="47" lon="-30"/>'),
    400,
    'xml-malformed',
  ],
  ['A18', 'two root elements', () => `${gpxOf(walk())}<gpx/>`, 400, 'xml-malformed'],
  ['A18', 'text after the root', () => `${gpxOf(walk())}tail`, 400, 'xml-malformed'],
  ['A19', 'U+0000 in the name', () => gpxOf(walk(), '<name>a\u0000b</name>'), 400, 'xml-malformed'],
  ['A19', 'U+0001 in the name', () => gpxOf(walk(), '<name>a\u0001b</name>'), 400, 'xml-malformed'],
  [
    'A22',
    'a byte that is not UTF-8',
    () => Buffer.from(gpxOf(walk(), '<name>caf\u00e9</name>'), 'latin1'),
    422,
    'encoding',
  ],
  ['A24', 'an unknown encoding', () => `<?xml version="1.0" encoding="UTF-7"?><gpx/>`, 422, 'encoding'],
  ['A25', 'a page', () => '<!DOCTYPE html><html><body>Not found</body></html>', 422, 'not-gpx'],
  [
    'A26',
    'a KML file',
    () => '<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"/>',
    422,
    'not-gpx',
  ],
  ['A29', 'a latitude of "undefined"', () => point('undefined'), 422, 'bad-coordinate'],
  ['A30', 'a decimal comma', () => point('46,5'), 422, 'bad-coordinate'],
  ['A31', 'a latitude of 91', () => point('91'), 422, 'bad-coordinate'],
  ['A31', 'a longitude of 181', () => point('46', '181'), 422, 'bad-coordinate'],
  ...['1e400', 'Infinity', 'NaN', '0x10', ''].map(
    (lat) => ['A32', `a latitude of "${lat}"`, () => point(lat), 422, 'bad-coordinate'] as const,
  ),
  ['A34', 'points that are all the same', () => gpxOf(trkpt(46.1, -30.2).repeat(50)), 422, 'zero-length'],
  [
    'A45',
    'too many points',
    () => gpxOf(Array.from({ length: 100_001 }, (_, i) => trkpt((46 + i * 1e-6).toFixed(6), -30.2)).join('')),
    422,
    'too-many-points',
  ],
  ['A46', 'too many tracks', () => gpx(trk(seg(walk(3))).repeat(51)), 422, 'too-many-routes'],
  [
    'A47',
    'two good tracks and a bad one',
    () => gpx(`${trk(seg(walk(9)))}${trk(seg(walk(9, 46.05)))}${trk(seg(trkpt('x', 1)))}`),
    422,
    'bad-coordinate',
  ],
  [
    'A48',
    'a name of 10,000 characters',
    () => gpxOf(walk(), `<name>${'n'.repeat(10_000)}</name>`),
    422,
    'name-too-long',
  ],
  ['A51', 'a packed file', () => gzipSync(gpxOf(walk())), 415, 'compressed-not-supported'],
  [
    'A52',
    'a picture',
    () => Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0]),
    422,
    'not-gpx',
  ],
  ['A52', 'a program', () => Buffer.from([0x7f, 0x45, 0x4c, 0x46, 2, 1, 1, 0, 0, 0]), 422, 'not-gpx'],
];

/** Height of the cone under the walk north, metres. */
const heightM = (lat: number): number =>
  TOP.elevationM - 0.3 * geodesicM({ lonDeg: TOP.lonDeg, latDeg: lat }, TOP);

const named = (name: string): string => gpxOf(walk(), `<name>${name}</name>`);
const timed = (...times: string[]): string =>
  gpxOf(
    times.map((time, i) => trkpt((46.1 + i * 0.0002).toFixed(4), -30.2, `<time>${time}</time>`)).join(''),
  );
const utf16 = Buffer.from(
  `\uFEFF<?xml version="1.0" encoding="UTF-16"?>${named('Ridge').replace(/<\?.*?\?>/, '')}`,
  'utf16le',
);

/** Rows that are stored: with these codes among the warnings. */
const STORED: readonly (readonly [string, string, () => string | Buffer, readonly string[]])[] = [
  [
    'A6',
    'a segment of one point beside a good one',
    () => gpx(trk(seg(trkpt(46.2, -30.2)) + seg(walk()))),
    ['segment-dropped'],
  ],
  ['A20', 'a byte order mark', () => `\uFEFF${gpxOf(walk())}`, []],
  ['A21', 'UTF-16 with a byte order mark', () => utf16, []],
  [
    'A23',
    'ISO-8859-1 that says so',
    () =>
      Buffer.from(
        named('caf\u00e9').replace('<?xml version="1.0"?>', '<?xml version="1.0" encoding="ISO-8859-1"?>'),
        'latin1',
      ),
    [],
  ],
  ['A27', 'no namespace', () => gpxOf(walk()).replace(GPX_NS, ''), ['nonstandard-namespace']],
  [
    'A28',
    'an undeclared prefix in extensions',
    () => gpxOf(`${trkpt(46.0998, -30.2, '<extensions><x:hr>90</x:hr></extensions>')}${walk()}`),
    [],
  ],
  [
    'A33',
    'unusual but plain numbers',
    () => gpxOf(`${trkpt('+46.0996', '-30.2')}${trkpt('46.0998', '-30.20')}${walk()}`),
    [],
  ],
  [
    'A35',
    '100,000 points on one spot, then a line',
    () => gpxOf(trkpt(46.1, -30.2).repeat(90_000) + walk()),
    ['duplicates-removed'],
  ],
  [
    'A36',
    'heights that are none',
    () => gpxOf(`${trkpt(46.0998, -30.2, '<ele></ele>')}${trkpt(46.0999, -30.2, '<ele>nan</ele>')}${walk()}`),
    [],
  ],
  [
    'A39',
    'a time without a zone',
    () => timed('2026-06-20T08:00:00', '2026-06-20T08:01:00', '2026-06-20T08:02:00'),
    ['time-zone-unknown'],
  ],
  [
    'A41',
    'times that run backwards',
    () => timed('2026-06-20T08:05:00Z', '2026-06-20T08:01:00Z', '2026-06-20T08:02:00Z'),
    ['time-not-monotonic'],
  ],
  [
    'A42',
    'gaps of 30 m and 5 km',
    () => gpx(trk(seg(walk(9)) + seg(walk(9, 46.1019)) + seg(walk(9, 46.15)))),
    ['gap'],
  ],
  [
    'A50',
    'a stylesheet and a schema on an internal host',
    () =>
      gpxOf(walk()).replace(
        '<gpx ',
        '<?xml-stylesheet href="http://192.0.2.1/x.xsl"?><gpx xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://192.0.2.1/ http://192.0.2.1/x.xsd" ',
      ),
    [],
  ],
];

describe('bad GPX files over HTTP', () => {
  const service = eachService();

  it.each(REFUSED)('%s: refuses %s and keeps nothing', async (_row, _what, body, status, code) => {
    await expectRefused(service.app, await sendGpx(service.app, body()), status, code);
  });

  it.each(STORED)('%s: stores %s', async (_row, _what, body, codes) => {
    const answer = await sendGpx(service.app, body());
    expect(answer.status, answer.text).toBe(201);
    const warned = answer.json.warnings.map(({ code }) => code);
    expect(warned).toEqual(expect.arrayContaining([...codes]));
    const list = await ask(service.app, { url: '/v1/routes' });
    expect(list.json.routes).toHaveLength(answer.json.routes.length);
  });

  it('A29: names the point of a bad coordinate', async () => {
    const answer = await sendGpx(service.app, point('undefined'));
    expect(answer.json.errors[0]?.pointer).toBe('/trk[1]/trkseg[1]/trkpt[1]/@lat');
  });

  it('A47: names the track that is bad', async () => {
    const bad = trk(seg(trkpt('x', 1)));
    const answer = await sendGpx(service.app, gpx(trk(seg(walk(9))) + trk(seg(walk(9, 46.05))) + bad));
    expect(answer.json.errors[0]?.pointer).toMatch(/^\/trk\[3\]/);
  });

  it.each([
    ['A37', 'heights that are all 0', () => 0, 'ele-suspect'],
    ['A38', 'heights in feet', (lat: number) => heightM(lat) / 0.3048, 'ele-looks-like-feet'],
  ])('%s: warns of %s, and measures from the tiles all the same', async (_row, _what, ele, code) => {
    const plain = Array.from({ length: 60 }, (_, i) => 46.08 + i * 0.0003);
    const file = (inner: (lat: number) => string) =>
      gpxOf(plain.map((lat) => trkpt(lat.toFixed(4), -30.2, inner(lat))).join(''));
    const bare = await sendGpx(
      service.app,
      file(() => ''),
    );
    const answer = await sendGpx(
      service.app,
      file((lat) => `<ele>${ele(lat)}</ele>`),
    );
    // The same line again: the stored route has what the file recorded now.
    expect(answer.status, answer.text).toBe(200);
    expect(answer.json.routes[0]).toMatchObject({ id: bare.json.routes[0]?.id, revision: 2 });
    expect(answer.json.warnings.map((warning) => warning.code)).toContain(code);
    // What the file recorded stands beside, and drives nothing.
    const { recorded: _, ...measures } = { recorded: null, ...answer.json.routes[0]?.measures };
    const { recorded: __, ...fromTiles } = { recorded: null, ...bare.json.routes[0]?.measures };
    expect(measures).toEqual(fromTiles);
  });

  it('A7: names line and column', async () => {
    const answer = await sendGpx(service.app, '<gpx>\n<trk>\n<name>x</nam');
    expect(answer.json.errors[0]).toMatchObject({ line: expect.any(Number), column: expect.any(Number) });
  });

  it('A22: names the byte', async () => {
    const answer = await sendGpx(service.app, Buffer.from(named('caf\u00e9'), 'latin1'));
    expect(answer.json.errors[0]?.byteOffset).toBe(named('').indexOf('</name>') + 3);
  });

  it('A23: reads é of ISO-8859-1 rightly', async () => {
    const [, , body] = STORED.find(([row]) => row === 'A23') ?? [];
    const answer = await sendGpx(service.app, body?.() ?? '');
    expect(answer.json.routes[0]?.name).toBe('caf\u00e9');
  });

  it('A40: ignores times that are none', async () => {
    const answer = await sendGpx(
      service.app,
      timed('yesterday', '0000-00-00T00:00:00Z', '2026-06-20T24:00:00Z'),
    );
    expect(answer.status, answer.text).toBe(201);
  });

  it('A43: measures a line over the 180th meridian as short as it is', async () => {
    const over = Array.from({ length: 21 }, (_, i) => {
      const lon = 179.99 + i * 0.001;
      return trkpt('0.0001', (lon > 180 ? lon - 360 : lon).toFixed(3));
    });
    const answer = await sendGpx(service.app, gpxOf(over.join('')));
    expect(answer.status, answer.text).toBe(201);
    // 0.02° of longitude at the equator is 2,226 m on the ellipsoid (6,378,137 m × 0.02 × π/180).
    expect(answer.json.routes[0]?.measures.distanceM).toBeCloseTo(2226.4, 0);
    expect(answer.json.routes[0]?.measures.demCoverage).toBe(0);
  });

  it('A44: never answers NaN near the pole', async () => {
    const answer = await sendGpx(
      service.app,
      gpxOf(`${trkpt('89.999', '0')}${trkpt('89.9991', '90')}${trkpt('89.9992', '179')}`),
    );
    expect([201, 422]).toContain(answer.status);
    expect(answer.text).not.toContain('NaN');
  });

  it.each([
    ['only spaces', '   ', 'Unnamed route'],
    ['a right-to-left override', 'a\u202eb', 'ab'],
    ['a script', '&lt;script&gt;x&lt;/script&gt;', '<script>x</script>'],
    ['a formula', '=cmd()', '=cmd()'],
  ])('A48: keeps a name of %s as plain text', async (_what, name, shown) => {
    const answer = await sendGpx(service.app, named(name));
    expect(answer.status, answer.text).toBe(201);
    expect(answer.json.routes[0]?.name).toBe(shown);
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
  });

  it('A49: drops a single point 3,000 km away, and refuses many', async () => {
    const one = await sendGpx(service.app, gpxOf(`${walk(60)}${trkpt(20, -30.2)}${walk(60, 46.112)}`));
    expect(one.status, one.text).toBe(201);
    const far = Array.from(
      { length: 8 },
      (_, i) => trkpt(20 + i, -30.2) + trkpt((46.12 + i * 0.0002).toFixed(4), -30.2),
    );
    const many = await sendGpx(service.app, gpxOf(`${walk(60)}${far.join('')}`));
    expect([many.status, many.json.code]).toEqual([422, 'implausible-jump']);
  });

  it('repeats at most 100 characters of what was sent', async () => {
    const long = 'x'.repeat(5000);
    for (const body of [point(long), `<gpx><${long}/></gpy>`, `<${long}/>`]) {
      const answer = await sendGpx(service.app, body);
      expect(answer.status).toBeLessThan(500);
      expect(answer.text).not.toContain('x'.repeat(101));
    }
  });

  it('reads a GPX sent as bytes of no stated kind', async () => {
    expect((await post(service.app, '/v1/routes', gpxOf(walk()), 'application/octet-stream')).status).toBe(
      201,
    );
    expect((await post(service.app, '/v1/routes', gpxOf(walk(59)), `${GPX}; charset=utf-8`)).status).toBe(
      201,
    );
  });
});
