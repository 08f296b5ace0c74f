import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EngineError } from '../../src/errors.ts';
import { readTracks } from '../../src/ingest/read-tracks.ts';
import {
  bytesOf,
  caught,
  codes,
  gpx,
  gpxOf,
  line,
  readOne,
  refused,
  seg,
  trk,
  trkpt,
  walk,
} from './samples.ts';

describe('hostile and odd GPX', () => {
  it('reads CDATA, entities and comments inside a name as one text', () => {
    const name = '<name>A &amp; <!-- not this --><![CDATA[B &amp; <C>]]> d&#233;&#xe9;</name>';
    expect(readOne(gpxOf(walk(), name)).name).toBe('A & B &amp; <C> déé');
  });

  it('reads a height around a comment, and the last of two heights', () => {
    const points =
      trkpt(46.1, -30.2, '<ele>12<!-- x -->34</ele>') + trkpt(46.1002, -30.2, '<ele>1</ele><ele>2</ele>');
    expect(readOne(gpxOf(points)).segments[0]?.map((p) => p.elevationM)).toEqual([1234, 2]);
  });

  it('reads self-closing points, comments and instructions between points, and any quotes', () => {
    const points = `<trkpt lat='46.1' lon="-30.2"/><!-- <trkpt lat="1" lon="1"/> --><?x y?>\r\n<trkpt\n lon="-30.2"\tlat="46.1002" />`;
    expect(readOne(gpxOf(points)).segments[0]).toHaveLength(2);
  });

  it('keeps to points of tracks: the same names elsewhere and in extensions do not count', () => {
    const inner = `<ele>5</ele><extensions><ele>9</ele><name>no</name><time>x</time>${trkpt(1, 1)}</extensions>`;
    const track = readOne(
      gpx(
        `<metadata><author><name>Someone</name></author></metadata>${trkpt(3, 3)}${trk(`<link><name>no</name></link><name>Ridge</name>${seg(trkpt(46.1, -30.2, inner) + trkpt(46.1002, -30.2))}`)}`,
      ),
    );
    expect(track.name).toBe('Ridge');
    expect(track.segments[0]?.map((p) => [p.latDeg, p.elevationM])).toEqual([
      [46.1, 5],
      [46.1002, null],
    ]);
  });

  it('does not mistake attributes of another vocabulary for a coordinate', () => {
    const text = gpxOf(`<trkpt lat="46.1" x:lat="1" lon="-30.2"/><trkpt lat="46.1002" lon="-30.2"/>`);
    expect(readOne(text).segments[0]?.[0]?.latDeg).toBe(46.1);
  });

  it('accepts an empty line before the XML declaration', () => {
    expect(readOne(`\n\n${gpxOf(walk())}`).segments[0]).toHaveLength(60);
  });

  it('reads UTF-8 whose declaration falsely says UTF-16, with a note', () => {
    expect(codes(readOne(gpxOf(walk()).replace('?>', ' encoding="utf-16"?>')))).toContain(
      'encoding-declared-wrong',
    );
  });

  it('refuses names that reach for a prototype as malformed, and reads over them in extensions', () => {
    for (const name of ['constructor', '__proto__', 'prototype']) {
      expect(refused(gpx(`<${name}/>`)).code).toBe('xml-malformed');
      expect(refused(gpxOf(`${walk(2)}<trkpt lat="1" lon="1" ${name}="1"/>`)).code).toBe('xml-malformed');
    }
    expect(
      readOne(gpxOf(walk(2) + trkpt(46.1004, -30.2, '<extensions><constructor/></extensions>'))).name,
    ).toBe('West Ridge');
  });

  it('refuses undefined entities, stray ampersands and stray brackets with line and column', () => {
    for (const bad of [
      '&nbsp;',
      'a & b',
      '&;',
      '&#;',
      '&#x;',
      '&amp',
      'a < b',
      '<b',
      '</trk>',
      '<!ELEMENT a>',
      '<>',
      '< a>',
    ]) {
      const error = refused(gpxOf(walk(), `\n<name>${bad}</name>`));
      expect(error.code, bad).toBe('xml-malformed');
      expect(error.place.line, bad).toBeGreaterThanOrEqual(2);
    }
    expect(refused('<gpx a="<"/>').code).toBe('xml-malformed');
    expect(refused('<gpx a=1/>').code).toBe('xml-malformed');
    expect(refused('<gpx a/>').code).toBe('xml-malformed');
    expect(refused('<').code).toBe('xml-malformed');
    expect(refused('<!-- only -->').code).toBe('xml-malformed');
    expect(refused('<gpx/><!-- never closed').code).toBe('xml-malformed');
    expect(refused('<gpx><![CDATA[x</gpx>').code).toBe('xml-malformed');
  });

  it('refuses what is not well formed at its place, also in what is passed over', () => {
    for (const bad of [
      '<a b="1"c="2"/>',
      '<a b="1" b="2"/>',
      '<a =""/>',
      '<1a/>',
      'a]]>b',
      '<!-- a -- b -->',
      '<?1?>',
      '<?xml version="1.0"?>',
    ]) {
      const inside = gpxOf(walk(2) + trkpt(46.1004, -30.2, `<extensions>\n  ${bad}</extensions>`));
      for (const text of [inside, gpx(`\n  ${bad}${trk(seg(walk()))}`)]) {
        const error = refused(text);
        expect(error.code, bad).toBe('xml-malformed');
        expect(error.place.line, bad).toBe(2);
        expect(error.place.column, bad).toBeGreaterThan(3);
        expect(error.place.column, bad).toBeLessThanOrEqual(3 + bad.length);
      }
    }
  });

  it('limits one attribute value and one CDATA text', () => {
    expect(refused(gpx(`<trk x="${'y'.repeat(70_000)}"/>`)).code).toBe('xml-limits');
    expect(refused(gpxOf(walk(), `<name><![CDATA[${'y'.repeat(70_000)}]]></name>`)).code).toBe('xml-limits');
    expect(readOne(gpxOf(walk(), '<name>a</name>').replace('<trk>', `${' '.repeat(70_000)}<trk>`)).name).toBe(
      'a',
    );
  });

  it('refuses 100,000 tiny segments', () => {
    const error = refused(gpx(trk(seg(trkpt(46.1, -30.2)).repeat(100_000))));
    expect(error.code).toBe('too-many-segments');
    expect(error.place.limit).toBe(1000);
  });

  it('keeps a bounded number of waypoints, and gives them to every track', () => {
    const wpt =
      '<wpt lat="46.1" lon="-30.2"><name>Spring &amp; hut</name></wpt><wpt lat="46.2" lon="-30.2"/>';
    expect(readOne(gpx(wpt + trk(seg(walk())))).waypoints).toEqual([
      { name: 'Spring & hut', latDeg: 46.1, lonDeg: -30.2 },
      { name: null, latDeg: 46.2, lonDeg: -30.2 },
    ]);
    const track = readOne(gpx(wpt.repeat(600) + trk(seg(walk()))));
    expect(track.waypoints).toHaveLength(1000);
    expect(codes(track)).toContain('waypoints-dropped');
    expect(refused(gpx(`<wpt lat="x" lon="1"/>${trk(seg(walk()))}`)).place.pointer).toBe('/wpt[1]/@lat');
  });

  it('limits elements, waypoints, and the objects and lists of JSON before parsing', () => {
    expect(refused(gpx('<a/>'.repeat(600_001))).code).toBe('xml-limits');
    expect(refused(gpx('<wpt lat="1" lon="1"/>'.repeat(200_001))).code).toBe('too-many-points');
    expect(refused(`{"type":"LineString","coordinates":[${'[1,2],'.repeat(600_001)}[1,2]]}`).code).toBe(
      'too-many-points',
    );
  });

  it('repeats no hostile text at length or with control characters', () => {
    const error = refused(gpxOf(walk() + trkpt(`\u202e${'9,'.repeat(5000)}`, -30.2)));
    expect(error.message.length).toBeLessThan(300);
    expect(error.message).not.toMatch(/[\u202e\n]/);
  });
});

describe('hostile bytes', () => {
  it('refuses UTF-32, UTF-16 without a mark, and a genuine replacement character is no fault', () => {
    expect(caught(() => readTracks(Buffer.from([0xff, 0xfe, 0, 0, 0x3c, 0, 0, 0]))).code).toBe('encoding');
    expect(caught(() => readTracks(Buffer.from('<gpx/>', 'utf16le'))).code).toBe('encoding');
    expect(readOne(gpxOf(walk(), '<name>a\uFFFDb</name>')).name).toBe('a\uFFFDb');
    const bytes = Buffer.from(gpxOf(walk(), '<name>é\uFFFD~</name>'));
    const at = bytes.indexOf('~');
    bytes[at] = 0xff;
    expect(caught(() => readTracks(bytes)).place.byteOffset).toBe(at);
    const odd = Buffer.concat([Buffer.from('\uFEFF<gpx/>', 'utf16le'), Buffer.from([0x41])]);
    expect(caught(() => readTracks(odd)).place.byteOffset).toBe(odd.length - 1);
    const ascii = gpxOf(walk(), '<name>é</name>').replace('?>', ' encoding="US-ASCII"?>');
    expect(refused(ascii).code).toBe('encoding');
  });

  it('answers any bytes with tracks or an EngineError', () => {
    const only = (bytes: Uint8Array): void => {
      try {
        readTracks(bytes);
      } catch (error) {
        if (!(error instanceof EngineError)) throw error;
      }
    };
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), only), { numRuns: 300, seed: 7 });
    for (const whole of [
      gpxOf(`${walk(4)}<!-- c -->`, '<name><![CDATA[a]]>&amp;</name>'),
      JSON.stringify({
        type: 'Feature',
        properties: { name: 'a' },
        geometry: line([
          [1, 2],
          [1, 2.001],
        ]),
      }),
    ]) {
      const bytes = bytesOf(whole);
      // One place of a good file replaced by other bytes.
      const damage = fc.tuple(fc.nat(bytes.length), fc.uint8Array({ maxLength: 6 }), fc.nat(6));
      fc.assert(
        fc.property(damage, ([at, put, cut]) =>
          only(Buffer.concat([bytes.subarray(0, at), put, bytes.subarray(at + cut)])),
        ),
        { numRuns: 1500, seed: 7 },
      );
    }
  });
});
