import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import {
  bytesOf,
  caught,
  codes,
  gpx,
  gpxOf,
  read,
  readOne,
  refused,
  seg,
  trk,
  trkpt,
  walk,
} from './samples.ts';

describe('GPX files', () => {
  it('A1: an empty body is refused as empty', () => {
    expect(refused('').code).toBe('empty-body');
    expect(refused(' \n\t').code).toBe('empty-body');
  });

  it('A2: a GPX file without track or route is refused and says so', () => {
    const error = refused('<gpx/>');
    expect(error.code).toBe('no-line');
    expect(error.message).toContain('no track or route');
  });

  it('A3: a file of waypoints alone is refused and counts them', () => {
    const error = refused(gpx('<wpt lat="46.1" lon="-30.2"><name>Spring</name></wpt>'.repeat(5)));
    expect(error.code).toBe('no-line');
    expect(error.message).toContain('5 waypoints');
  });

  it('A4: a track with an empty segment is no line', () => {
    expect(refused(gpx(trk('<trkseg></trkseg>'))).code).toBe('no-line');
    expect(refused(gpx(trk('<trkseg/>'))).code).toBe('no-line');
  });

  it('A5: a single point is no line, and the error names the segment', () => {
    const error = refused(gpxOf(trkpt(46.1, -30.2)));
    expect(error.code).toBe('no-line');
    expect(error.place.pointer).toBe('/trk[1]/trkseg[1]');
  });

  it('A6: a one-point segment beside a good one is dropped with a note', () => {
    const track = readOne(gpx(trk(seg(trkpt(46.09, -30.2)) + seg(walk()))));
    expect(track.segments).toHaveLength(1);
    expect(codes(track)).toContain('segment-dropped');
  });

  it('A7: a truncated file is refused with line and column', () => {
    const whole = gpxOf(`\n${walk()}`);
    for (const end of [whole.length - 8, whole.indexOf('lon=', 200), whole.indexOf('</trkpt>') + 3]) {
      const error = refused(whole.slice(0, end));
      expect(error.code).toBe('xml-malformed');
      expect(error.place.line).toBe(2);
      expect(error.place.column).toBeGreaterThan(1);
    }
  });

  it('A8: a DOCTYPE is refused, in any case and after comments', () => {
    for (const doctype of ['<!DOCTYPE gpx>', '<!doctype gpx>', '<!-- note --><!DOCTYPE gpx []>']) {
      expect(refused(`<?xml version="1.0"?>${doctype}<gpx/>`).code).toBe('doctype-not-allowed');
    }
  });

  it('A8: the word DOCTYPE in a comment or in CDATA is no DOCTYPE', () => {
    const track = readOne(
      gpx(`<!-- <!DOCTYPE gpx> -->${trk(`<name><![CDATA[<!DOCTYPE gpx>]]></name>${seg(walk())}`)}`),
    );
    expect(track.name).toBe('<!DOCTYPE gpx>');
  });

  it('A9, A10: entity bombs are refused by their DOCTYPE, never expanded', () => {
    const levels = Array.from({ length: 10 }, (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`).join(
      '',
    );
    const bomb = `<!DOCTYPE gpx [<!ENTITY e0 "ha">${levels}]>${gpxOf(walk(), '<name>&e10;</name>').slice(21)}`;
    const large = `<!DOCTYPE gpx [<!ENTITY big "${'x'.repeat(1e6)}">]><gpx>${'&big;'.repeat(10_000)}</gpx>`;
    expect(refused(bomb).code).toBe('doctype-not-allowed');
    expect(refused(large).code).toBe('doctype-not-allowed');
  });

  it('A11, A12: external and parameter entities are refused by their DOCTYPE', () => {
    const outside = '<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]><gpx>&x;</gpx>';
    const parameter = '<!DOCTYPE gpx [<!ENTITY % x SYSTEM "http://localhost:1/x.dtd"> %x;]><gpx/>';
    expect(refused(outside).code).toBe('doctype-not-allowed');
    expect(refused(parameter).code).toBe('doctype-not-allowed');
  });

  it('A13: a million character references in a name break the text limit', () => {
    const error = refused(gpxOf(walk(), `<name>${'&#65;'.repeat(1_000_000)}</name>`));
    expect(error.code).toBe('xml-limits');
    expect(error.place.limit).toBe(65_536);
  });

  it('A14: a depth of 200,000 breaks the depth limit', () => {
    const error = refused(`<gpx>${'<a>'.repeat(200_000)}${'</a>'.repeat(200_000)}</gpx>`);
    expect(error.code).toBe('xml-limits');
    expect(error.place.limit).toBe(32);
  });

  it('A15: an element with 10,000 attributes breaks the attribute limit', () => {
    const attributes = Array.from({ length: 10_000 }, (_, i) => `a${i}="1"`).join(' ');
    expect(refused(gpx(`<trk ${attributes}/>`)).code).toBe('xml-limits');
  });

  it('A16: a comment of 20 MB is refused by its size alone', () => {
    const error = refused(`<gpx><!--${'x'.repeat(20_000_000)}--></gpx>`);
    expect(error.code).toBe('body-too-large');
    expect(error.place.limit).toBe(10 * 1024 * 1024);
  });

  it('A17: a repeated attribute is malformed', () => {
    const error = refused(gpxOf('<trkpt lat="46.1" lat="46.2" lon="-30.2"/>'));
    expect(error.code).toBe('xml-malformed');
    expect(error.place.line).toBe(1);
  });

  it('A18: two roots and text after the root are malformed', () => {
    for (const text of [
      gpxOf(walk()) + gpxOf(walk()).slice(21),
      `${gpxOf(walk())}trailing`,
      '<gpx/><gpx/>',
      '<gpx/>x',
    ]) {
      expect(refused(text).code).toBe('xml-malformed');
    }
  });

  it('A19: control characters are malformed, written or as references', () => {
    for (const bad of ['\u0000', '\u0001', '\uffff', '&#0;', '&#1;', '&#xD800;', '&#x110000;']) {
      const error = refused(gpxOf(walk(), `<name>a${bad}b</name>`));
      expect(error.code).toBe('xml-malformed');
      expect(error.place.line).toBe(1);
    }
  });

  it('A20: a UTF-8 byte order mark is accepted', () => {
    expect(readOne(`\uFEFF${gpxOf(walk())}`).name).toBe('West Ridge');
  });

  it('A21: UTF-16 with a byte order mark is accepted, in both byte orders', () => {
    const text = gpxOf(walk(), '<name>Grünhorn</name>').replace('"1.0"?', '"1.0" encoding="UTF-16"?');
    const little = Buffer.from(`\uFEFF${text}`, 'utf16le');
    expect(readTracks(little)[0]?.name).toBe('Grünhorn');
    expect(readTracks(Buffer.from(little).swap16())[0]?.name).toBe('Grünhorn');
  });

  it('A22: a byte that is not UTF-8 is refused with its offset', () => {
    const bytes = Buffer.from(gpxOf(walk(), '<name>Fen~tre</name>').replace('?>', ' encoding="UTF-8"?>'));
    const at = bytes.indexOf('~');
    bytes[at] = 0xe9;
    const error = caught(() => readTracks(bytes));
    expect(error.code).toBe('encoding');
    expect(error.place.byteOffset).toBe(at);
  });

  it('A23: ISO-8859-1 and Windows-1252 names come out right', () => {
    for (const encoding of ['ISO-8859-1', 'windows-1252']) {
      const text = gpxOf(walk(), '<name>Fen\u00eatre d\u00e9 l\u0092Aube</name>').replace(
        '?>',
        ` encoding="${encoding}"?>`,
      );
      expect(readTracks(Buffer.from(text, 'latin1'))[0]?.name).toBe('Fenêtre dé l’Aube');
    }
  });

  it('A24: other encodings are refused by name', () => {
    for (const encoding of ['UTF-7', 'EBCDIC-CP-BE', 'no-such']) {
      const error = refused(gpxOf(walk()).replace('?>', ` encoding="${encoding}"?>`));
      expect(error.code).toBe('encoding');
      expect(error.message).toContain(encoding);
    }
  });

  it('A25: an HTML page is called one', () => {
    for (const page of [
      '<!DOCTYPE html><html><body><br>login</body></html>',
      '<html><p>x</html>',
      '<!-- a --><!doctype HTML PUBLIC "-//W3C//DTD">x',
    ]) {
      const error = refused(page, { fileName: 'route.gpx' });
      expect(error.code).toBe('not-gpx');
      expect(error.message).toContain('HTML page');
    }
  });

  it('A26: other XML formats are named', () => {
    expect(refused('<kml xmlns="http://www.opengis.net/kml/2.2"/>').message).toContain('KML');
    expect(refused('<TrainingCenterDatabase/>').message).toContain('TCX');
    const error = refused('<constructor/>');
    expect(error.code).toBe('not-gpx');
    expect(error.message).toContain('constructor');
  });

  it('A27: no namespace, a foreign one, or a root in capitals is accepted with a note', () => {
    for (const open of ['<gpx', '<GPX', '<gpx xmlns="http://example.org/"', '<x:gpx']) {
      const close = open.split(' ')[0]?.replace('<', '</');
      const body = trk(seg(walk()));
      const prefixed = open === '<x:gpx' ? body.replace(/<(\/?)/g, '<$1x:') : body;
      const track = readOne(`${open}>${prefixed}${close}>`);
      expect(codes(track)).toContain('nonstandard-namespace');
      expect(track.segments[0]).toHaveLength(60);
    }
  });

  it('A27: the 1.0 namespace with content of 1.1 is accepted with a note, plain 1.0 without', () => {
    const old = (inner: string): string =>
      `<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0">${inner}</gpx>`;
    expect(codes(readOne(old(`<metadata/>${trk(seg(walk()))}`)))).toContain('nonstandard-namespace');
    const track = readOne(old(`<name>Old</name>${trk(seg(walk()))}`));
    expect(codes(track)).toEqual([]);
    expect(track.name).toBe('Old');
  });

  it('A28: an undeclared prefix in extensions is accepted with a note', () => {
    const track = readOne(
      gpxOf(walk(59) + trkpt(46.1118, -30.2, '<extensions><x:hr>90</x:hr></extensions>')),
    );
    expect(codes(track)).toContain('undeclared-prefix');
    expect(track.segments[0]).toHaveLength(60);
  });

  it('A29: a coordinate that is no number is refused with the element path', () => {
    const error = refused(gpxOf(trkpt('undefined', -30.2) + walk()));
    expect(error.code).toBe('bad-coordinate');
    expect(error.place.pointer).toBe('/trk[1]/trkseg[1]/trkpt[1]/@lat');
  });

  it('A30: a decimal comma gets a hint', () => {
    const error = refused(gpxOf(walk(2) + trkpt('47,5', -30.2)));
    expect(error.code).toBe('bad-coordinate');
    expect(error.place.pointer).toBe('/trk[1]/trkseg[1]/trkpt[3]/@lat');
    expect(error.message).toContain('decimal comma');
    expect(error.message).toContain('47.5');
  });

  it('A31: coordinates out of range are refused; a swapped pair gets a hint', () => {
    const latitude = refused(gpxOf(walk() + trkpt(91, -30.2)));
    expect(latitude.code).toBe('bad-coordinate');
    expect(latitude.message).toContain('swapped');
    const longitude = refused(gpxOf(walk() + trkpt(46.1, 181)));
    expect(longitude.code).toBe('bad-coordinate');
    expect(longitude.place.pointer).toBe('/trk[1]/trkseg[1]/trkpt[61]/@lon');
    expect(refused(gpxOf(walk() + trkpt(91, 181))).message).not.toContain('swapped');
  });

  it('A32: 1e400, Infinity, NaN, hexadecimal and nothing are no coordinates', () => {
    for (const bad of ['1e400', 'Infinity', 'NaN', '0x10', '', ' ', '4 6', '4_6', '--1', '.', 'e5', '٤٦']) {
      expect(refused(gpxOf(walk() + trkpt(bad, -30.2))).code, bad).toBe('bad-coordinate');
    }
    expect(refused(gpxOf(`${walk()}<trkpt lat="46.1"/>`)).place.pointer).toBe(
      '/trk[1]/trkseg[1]/trkpt[61]/@lon',
    );
  });

  it('A33: -0, a plus sign, a bare point, exponents and white space are accepted', () => {
    const track = readOne(
      gpxOf(trkpt('+46.5', '-0') + trkpt('46.', '-0.0') + trkpt('4.62E+1', '.1e-2') + trkpt(' 46.1\n', '0')),
    );
    expect(track.segments[0]?.map((p) => [p.latDeg, p.lonDeg])).toEqual([
      [46.5, 0],
      [46, 0],
      [46.2, 0.001],
      [46.1, 0],
    ]);
    expect(Object.is(track.segments[0]?.[0]?.lonDeg, -0)).toBe(false);
  });

  it('A34: points that are all at one place have zero length', () => {
    expect(refused(gpxOf(trkpt(46.1, -30.2).repeat(20))).code).toBe('zero-length');
  });

  it('A35: 100,000 repeats and then a line are accepted with a note', () => {
    const track = readOne(gpxOf(trkpt('46.1000', -30.2).repeat(100_000) + walk()));
    expect(track.segments[0]).toHaveLength(60);
    const note = track.notes.find(({ code }) => code === 'duplicates-removed');
    expect(note).toMatchObject({ values: { count: 100_000 } });
  });

  it('A36: an empty or unreadable height is null, never 0; a written 0 stays 0', () => {
    const heights = [
      '<ele></ele>',
      '<ele/>',
      '<ele>nan</ele>',
      '',
      '<ele>0</ele>',
      '<ele> 12.5 </ele>',
      '<ele>1e9</ele>',
    ];
    const track = readOne(gpxOf(heights.map((ele, i) => trkpt(46.1 + i * 0.0002, -30.2, ele)).join('')));
    expect(track.segments[0]?.map((p) => p.elevationM)).toEqual([null, null, null, null, 0, 12.5, null]);
  });

  it('A39: a time without a zone is unknown; offsets in both forms and milliseconds are read', () => {
    const times = [
      '2026-07-11T06:00:00',
      '2026-07-11T00:00:01-0600',
      '2026-07-11T08:00:02+02:00',
      '2026-07-11T06:00:03.123Z',
    ];
    const track = readOne(
      gpxOf(times.map((time, i) => trkpt(46.1 + i * 0.0002, -30.2, `<time>${time}</time>`)).join('')),
    );
    const at6 = Date.UTC(2026, 6, 11, 6);
    expect(track.segments[0]?.map((p) => p.timeMs)).toEqual([null, at6 + 1000, at6 + 2000, at6 + 3123]);
    expect(codes(track)).toContain('time-zone-unknown');
  });

  it('A40: unreadable times are ignored with a note', () => {
    const times = ['yesterday', '0000-01-01T00:00:00Z', '2026-07-11T24:00:00Z', '2026-02-30T06:00:00Z'];
    const track = readOne(
      gpxOf(times.map((time, i) => trkpt(46.1 + i * 0.0002, -30.2, `<time>${time}</time>`)).join('')),
    );
    expect(track.segments[0]?.map((p) => p.timeMs)).toEqual([null, null, null, null]);
    expect(track.notes).toContainEqual({ code: 'time-ignored', values: { count: 4 } });
  });

  it('A41: decreasing times get a note and the order of the file stays', () => {
    const times = ['06:00:00', '06:05:00', '06:04:00', '06:06:00'];
    const track = readOne(
      gpxOf(
        times.map((time, i) => trkpt(46.1 + i * 0.0002, -30.2, `<time>2026-07-11T${time}Z</time>`)).join(''),
      ),
    );
    expect(codes(track)).toContain('time-not-monotonic');
    expect(track.segments[0]?.map((p) => p.latDeg)).toEqual([46.1, 46.1002, 46.1004, 46.1006]);
  });

  it('A42: of gaps of 30 m, 5 km and 400 m the first is joined, the others stay open and are told', () => {
    // 0.0002° of latitude is 22.2 m; the second segment starts 30 m past the end of the first.
    const track = readOne(
      gpx(
        trk(
          seg(walk(10, 46.1)) +
            seg(walk(10, 46.1018 + 0.00027)) +
            seg(walk(10, 46.149)) +
            seg(walk(10, 46.1544)),
        ),
      ),
    );
    expect(track.segments.map((segment) => segment.length)).toEqual([20, 10, 10]);
    const gaps = track.notes.filter(({ code }) => code === 'gap');
    expect(gaps).toMatchObject([
      { values: { kind: 'large', count: 1, overM: 2000, longestM: expect.closeTo(5000, -2) } },
      { values: { kind: 'small', count: 1, overM: 50, mostM: 2000 } },
    ]);
    expect(codes(track)).toContain('segments-joined');
  });

  it('A43: a line across 180° is unwrapped, and its length is the true one', () => {
    const lons = Array.from({ length: 21 }, (_, i) => 179.99 + i * 0.001).map((lon) =>
      lon > 180 ? lon - 360 : lon,
    );
    const track = readOne(gpxOf(lons.map((lon) => trkpt(52, lon.toFixed(4))).join('')));
    const points = track.segments[0] ?? [];
    let lengthM = 0;
    let planar = 0;
    for (const [i, point] of points.entries()) {
      const last = points[i - 1];
      if (last === undefined) continue;
      lengthM += geodesicM(last, point);
      planar = Math.max(planar, Math.abs(point.lonDeg - last.lonDeg));
    }
    expect(planar).toBeLessThan(0.0011);
    expect(points.at(-1)?.lonDeg).toBe(180.01);
    expect(lengthM).toBeCloseTo(
      geodesicM({ latDeg: 52, lonDeg: 179.99 }, { latDeg: 52, lonDeg: -179.99 }),
      1,
    );
  });

  it('A44: near the pole nothing becomes NaN', () => {
    const near = readOne(gpxOf([0, 2, 4, 6, 8].map((lon) => trkpt(89.999, lon)).join('')));
    for (const point of near.segments.flat()) expect(Number.isFinite(point.latDeg + point.lonDeg)).toBe(true);
    expect(JSON.stringify(near.notes)).not.toContain('NaN');
    // A round of some hundred metres, though it passes every longitude.
    const round = readOne(gpxOf([0, 90, 180, -90].map((lon) => trkpt(89.999, lon)).join('')));
    expect(round.segments.flat()).toHaveLength(4);
  });

  it('A45: 100,001 points are too many, 100,000 are not', () => {
    const points = (count: number): string =>
      Array.from(
        { length: count },
        (_, i) => `<trkpt lat="${(46 + i * 1e-5).toFixed(5)}" lon="-30.2"/>`,
      ).join('');
    const error = refused(gpxOf(points(100_001)));
    expect(error.code).toBe('too-many-points');
    expect(error.place).toMatchObject({ limit: 100_000, found: 100_001 });
    expect(readOne(gpxOf(points(100_000))).segments[0]).toHaveLength(100_000);
    const apart = trk(seg(points(70_000)));
    expect(refused(gpx(apart + apart + apart)).place.limit).toBe(200_000);
  });

  it('A46: 51 tracks are too many, 50 are not', () => {
    const error = refused(gpx(trk(seg(walk(3))).repeat(51)));
    expect(error.code).toBe('too-many-routes');
    expect(error.place).toMatchObject({ limit: 50, found: 51 });
    expect(read(gpx(trk(seg(walk(3))).repeat(50)))).toHaveLength(50);
  });

  it('A47: one bad track of three refuses the file and is named', () => {
    const good = trk(seg(walk()));
    const error = refused(gpx(good + good + trk(seg(walk(2) + trkpt('x', 1)))));
    expect(error.code).toBe('bad-coordinate');
    expect(error.place.pointer).toBe('/trk[3]/trkseg[1]/trkpt[3]/@lat');
    expect(read(gpx(good + good + trk(seg(trkpt(46.1, -30.2)))))).toHaveLength(2);
  });

  it('A48: names are cleaned, kept as text, and limited', () => {
    const named = (name: string): string => gpxOf(walk(), `<name>${name}</name>`);
    const long = refused(named('x'.repeat(10_000)));
    expect(long.code).toBe('name-too-long');
    expect(long.place).toMatchObject({ pointer: '/trk[1]/name', limit: 200, found: 10_000 });
    const blank = readOne(named('   \n '));
    expect(blank.name).toBe('Unnamed route');
    expect(codes(blank)).toContain('name-missing');
    expect(readOne(named('East\u202Eegdir\u2066 Ridge')).name).toBe('Eastegdir Ridge');
    expect(readOne(named('&lt;script>alert(1)&lt;/script>')).name).toBe('<script>alert(1)</script>');
    expect(readOne(named('=cmd()')).name).toBe('=cmd()');
    expect(readOne(named(' Gru\u0308nhorn \t South ')).name).toBe('Gr\u00fcnhorn South');
    expect(readOne(named('🏔'.repeat(200))).name).toBe('🏔'.repeat(200));
  });

  it('A49: one far point is dropped with a note, two together are refused', () => {
    const far = trkpt(20, -30.2);
    for (const points of [walk(30) + far + walk(30, 46.106), far + walk(), walk() + far]) {
      const track = readOne(gpxOf(points));
      expect(track.segments[0]).toHaveLength(60);
      expect(codes(track)).toContain('implausible-jump');
    }
    const error = refused(gpxOf(walk(30) + far + trkpt(20.0002, -30.2) + walk(30, 46.106)));
    expect(error.code).toBe('implausible-jump');
    expect(error.place.pointer).toBe('/trk[1]/trkseg[1]/trkpt[31]');
    expect(refused(gpxOf(walk(30) + walk(30, 46.2))).code).toBe('implausible-jump');
  });

  it('A49: a coarser track loses its far point too', () => {
    const coarse = Array.from({ length: 40 }, (_, i) => trkpt((46.1 + i * 0.001).toFixed(3), -30.2));
    coarse.splice(20, 0, trkpt(20, -30.2));
    expect(readOne(gpxOf(coarse.join(''))).segments[0]).toHaveLength(40);
  });

  it('A50: style sheets and schema locations are read over', () => {
    const text = gpxOf(walk())
      .replace('?>', '?><?xml-stylesheet type="text/xsl" href="http://localhost:1/x.xsl"?>')
      .replace(
        '<gpx',
        '<gpx xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://localhost:1/a http://localhost:1/b"',
      );
    expect(codes(readOne(text))).toEqual([]);
  });

  it('A51: compressed files are refused without unpacking', () => {
    const gzip = caught(() => readTracks(gzipSync(bytesOf(gpxOf(walk()))), { fileName: 'a.gpx' }));
    expect(gzip.code).toBe('compressed-not-supported');
    expect(gzip.status).toBe(415);
    expect(caught(() => readTracks(Buffer.from('PK\u0003\u0004rest', 'latin1'))).code).toBe(
      'compressed-not-supported',
    );
  });

  it('A52: pictures, programs and watch files are not GPX', () => {
    for (const head of [
      '\u0089PNG\r\n\u001a\n',
      '\u007fELF\u0002',
      '\u000e\u0010\u0000\u0000\u0000\u0000\u0000\u0000.FIT',
      '%PDF-1.7',
    ]) {
      expect(caught(() => readTracks(Buffer.from(head, 'latin1'), { fileName: 'a.gpx' })).code).toBe(
        'not-gpx',
      );
    }
    expect(refused('lat,lon\n46.1,-30.2\n').code).toBe('not-gpx');
  });

  it('A53: a file name gives a name and is never a path', () => {
    const bare = gpxOf(walk(), '');
    expect(readOne(bare, { fileName: '../../x.gpx' }).name).toBe('x');
    expect(readOne(bare, { fileName: 'C:\\walks\\West Ridge.GPX' }).name).toBe('West Ridge');
    expect(readOne(bare, { fileName: `${'n'.repeat(5000)}.gpx` }).name).toBe('n'.repeat(200));
    expect(readOne(bare, { fileName: 'a\r\nb.gpx' }).name).toBe('a b');
    expect(readOne(bare, { fileName: '\ud800.gpx' }).name).toBe('Unnamed route');
    expect(refused('<kml/>', { fileName: '../../x\r\n.gpx' }).place.file).toBe('x.gpx');
  });
});
