import fc from 'fast-check';
import { Compile } from 'typebox/compile';
import { describe, expect, it } from 'vitest';
import { routeAttributesSchema } from '../../src/ingest/attributes.ts';
import { cohortSchema, outingSchema } from '../../src/ingest/cohort-file.ts';
import { readRouteAttributes } from '../../src/ingest/route-attributes.ts';
import { schemaFault } from '../../src/ingest/schema-fault.ts';
import { departureIn } from '../support/departure.ts';
import { caught } from './samples.ts';

const FILE = 'west-ridge.route.json';
const read = (value: unknown) => readRouteAttributes(JSON.stringify(value), FILE);
const fault = (value: unknown) => caught(() => read(value));

describe('NAME.route.json', () => {
  it('is read as written: missing stays missing, null stays null', () => {
    const full = {
      name: 'West Ridge',
      rockClass: '2+',
      surface: 'talus',
      treelineM: null,
      trailhead: {
        name: 'Gate',
        roadClearance: 'high',
        roadKm: 0,
        roadMin: null,
        roadStatus: null,
        parkingSpaces: 12,
      },
      groupSizeLimit: 12,
      permit: { who: 'island ranger', partiesPerDay: null },
      season: { from: '10-01', to: '06-15' },
      closures: [
        { from: '05-01', to: '07-31', reason: 'nesting' },
        { from: '2026-07-01', to: '2026-07-09' },
      ],
      waterPoints: [{ name: 'Spring', lat: 46.1, lon: -30.2 }],
      waysOut: [],
      notes: 'Line one\nline two',
    };
    expect(read(full)).toEqual(full);
    expect(read({})).toEqual({});
    expect(readRouteAttributes('\uFEFF{"treelineM":0}', FILE)).toEqual({ treelineM: 0 });
  });

  it('is cleaned of bidi controls, line breaks kept', () => {
    expect(read({ name: ' a\u202eb ', notes: 'x\r\n\u0007y' })).toEqual({ name: 'ab', notes: 'x\ny' });
  });

  it('names file, pointer, limit and what to write for a bad value', () => {
    const error = fault({ trailhead: { parkingSpaces: -1 } });
    expect(error.code).toBe('bad-attribute');
    expect(error.place).toEqual({ file: FILE, pointer: '/trailhead/parkingSpaces', limit: 0, found: -1 });
    expect(departureIn(error)).toEqual({
      departs: 'wrong',
      wanted: { a: 'number', whole: true, from: 0, to: 10_000 },
      found: -1,
    });
    expect(departureIn(fault({ surface: 'gravel' }))).toMatchObject({
      wanted: { a: 'constant', values: ['trail', 'rough', 'talus', 'snow'] },
    });
    expect(departureIn(fault({ rockClass: 2 }))).toMatchObject({
      wanted: { a: 'described', as: expect.stringContaining('"2+"') },
    });
    expect(fault({ rockClass: '3.4' }).place.pointer).toBe('/rockClass');
    expect(departureIn(fault({ waterPoints: [{ lat: 1 }] }))).toEqual({ departs: 'missing' });
    expect(fault({ closures: Array(101).fill({ from: '01-01', to: '01-02' }) }).place).toMatchObject({
      limit: 100,
      found: 101,
    });
    expect(fault({ notes: 'x'.repeat(4001) }).place).toMatchObject({ limit: 4000, found: 4001 });
    expect(fault([]).place.pointer).toBe('');
  });

  it('refuses an unknown field and suggests the nearest known one', () => {
    const error = fault({ rockclass: '2', treelineM: 'x' });
    expect(error.place.pointer).toBe('/rockclass');
    expect(departureIn(error)).toMatchObject({ departs: 'unknown', near: 'rockClass' });
    expect(fault({ trailhead: { clearance: 'any' } }).place.pointer).toBe('/trailhead/clearance');
    expect(departureIn(fault({ colour: 1 }))).toMatchObject({
      near: null,
      known: expect.arrayContaining(['name', 'rockClass']),
    });
  });

  it('refuses days that do not exist and closures that end before they begin', () => {
    expect(fault({ season: { from: '02-30', to: '06-01' } }).place.pointer).toBe('/season/from');
    expect(fault({ closures: [{ from: '2025-02-29', to: '2025-03-01' }] }).place.pointer).toBe(
      '/closures/0/from',
    );
    expect(fault({ closures: [{ from: '2025-03-02', to: '2025-03-01' }] }).place.pointer).toBe('/closures/0');
    expect(fault({ closures: [{ from: '2025-03-02', to: '03-05' }] }).place.pointer).toBe('/closures/0');
    expect(
      read({ closures: [{ from: '12-01', to: '03-01' }], season: { from: '02-29', to: '03-01' } }),
    ).toBeTruthy();
  });

  it('reports broken JSON, depth, forbidden keys, size and emptiness with the file', () => {
    const codeOf = (text: string) => caught(() => readRouteAttributes(text, FILE));
    expect(codeOf('{"name": }').place).toEqual({ file: FILE, line: 1, column: 10 });
    expect(codeOf('['.repeat(500_000)).code).toBe('bad-attribute');
    expect(codeOf('{"__proto__":1}').code).toBe('json-forbidden-key');
    expect(codeOf(' ').code).toBe('empty-body');
    expect(codeOf(`{"notes":"${'x'.repeat(1024 * 1024)}"}`).code).toBe('body-too-large');
    expect(codeOf(`{"closures":[${'1,'.repeat(400_000)}1]}`).place).toMatchObject({
      limit: 100,
      found: 400_001,
    });
  });
});

describe('the walker that words schema errors', () => {
  const fields = [
    'name',
    'rockClass',
    'season',
    'home',
    'outings',
    'date',
    'participants',
    'from',
    'to',
    'lat',
    'lon',
    'zz',
  ];
  const scalar = fc.oneof(
    fc.constantFrom(
      null,
      '',
      '2',
      '06-15',
      '2026-06-20',
      '04:30',
      'trail',
      'any',
      'm1',
      'x'.repeat(201),
      true,
      0,
      9,
      -1,
      2.5,
      1e9,
    ),
    fc.string(),
    fc.double(),
  );
  const { value } = fc.letrec<{ value: unknown }>((tie) => ({
    value: fc.oneof(
      { maxDepth: 3 },
      scalar,
      fc.array(tie('value'), { maxLength: 3 }),
      fc.dictionary(
        fc.constantFrom(
          ...fields,
          ...Object.keys(cohortSchema.properties),
          ...Object.keys(routeAttributesSchema.properties),
        ),
        tie('value'),
        { maxKeys: 5 },
      ),
    ),
  }));

  it('agrees with the compiled validator on what is right', () => {
    for (const schema of [routeAttributesSchema, cohortSchema, outingSchema]) {
      const validator = Compile(schema);
      fc.assert(
        fc.property(value, (any) => {
          expect(schemaFault(schema, any, '') === null).toBe(validator.Check(any));
        }),
        { numRuns: 1000, seed: 8 },
      );
      for (const [name, property] of Object.entries(schema.properties)) {
        const one = Compile(property);
        fc.assert(
          fc.property(value, (any) => {
            expect(schemaFault(property, any, '') === null, name).toBe(one.Check(any));
          }),
          { numRuns: 150, seed: 9 },
        );
      }
    }
  });
});
