import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EngineError } from '../../src/errors.ts';
import { type Departure, message } from '../../src/message.ts';
import { errorText, namesItsPlace } from '../../src/text/errors.ts';
import { unitsNotOf } from '../support/unit-words.ts';

const error = (reason: EngineError['reason'] | string, pointer?: string) =>
  new EngineError('bad-cohort', reason, pointer === undefined ? {} : { pointer });

const SUBJECT = { field: 'The cohort field /sleepElevationM' };
const number = { a: 'number', whole: false, from: -430, to: 6000 } as const;

/** Every way to depart from a schema. */
const DEPARTURES: readonly Departure[] = [
  { departs: 'unknown', near: 'name', known: ['name'] },
  { departs: 'unknown', near: null, known: ['name', 'aim'] },
  { departs: 'missing' },
  { departs: 'tooLong', limit: 40, found: 50 },
  { departs: 'tooMany', limit: 40, found: 50 },
  { departs: 'tooFew', limit: 1, found: 0 },
  { departs: 'repeated', found: 'm1' },
  { departs: 'wrong', wanted: number, found: 30_000 },
  { departs: 'wrong', wanted: { ...number, whole: true, to: null }, found: 'x' },
  { departs: 'wrong', wanted: { a: 'constant', values: ['a', 'b'] }, found: { kind: 'list' } },
  { departs: 'wrong', wanted: { a: 'constant', values: ['a'] }, found: { kind: 'object' } },
  { departs: 'wrong', wanted: { a: 'described', as: 'a day in quotes', inForm: 'a day' }, found: null },
  ...(['text', 'boolean', 'null', 'object', 'list'] as const).map(
    (a): Departure => ({ departs: 'wrong', wanted: { a }, found: true }),
  ),
];

/** Units that a reason is about: the file or tile has them, whoever reads it. */
const ABOUT_UNITS =
  /3\.28|rewrite it in metres|is in metres|which is in metres|\$\{lastY\} m, which its system|distanceM, distanceKm or distanceMi|heightM or heightFt/;

/** The fixed parts of all reasons: what stands between their values. */
const patterns = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name) && !name.startsWith('text'))
  .flatMap((name) => {
    const source = readFileSync(join('src', name), 'utf8');
    const tagged = [...source.matchAll(/\bmessage`((?:[^`\\]|\\.)*)`/g)].map(([, text = '']) => text);
    const fixed = [...source.matchAll(/new EngineError\(\s*'[\w-]+',\s*'((?:[^'\\]|\\.)*)'/g)];
    return [...tagged, ...fixed.map(([, text = '']) => text)];
  });

describe('a reason in words', () => {
  it('names no unit in its fixed part, so that each is told in the units of its reader', () => {
    expect(patterns.length).toBeGreaterThan(150);
    const naming = patterns
      .filter((pattern) => !ABOUT_UNITS.test(pattern))
      // A value counts as a figure before what stands behind it.
      .map((pattern) => pattern.replace(/\$\{(?:[^{}]|\{[^{}]*\})*\}/g, '1'))
      .filter((pattern) => [...unitsNotOf('metric', pattern), ...unitsNotOf('us', pattern)].length > 0);
    expect(naming).toEqual([]);
  });

  it.each(DEPARTURES)('is in the units of its reader: %j', (departure) => {
    for (const units of ['metric', 'us'] as const) {
      for (const at of ['program', 'form', 'field'] as const) {
        const text = errorText(error(message`${SUBJECT} ${departure}`), units, { at });
        expect(text).not.toMatch(/undefined|NaN|\[object/);
        expect(unitsNotOf(units, text)).toEqual([]);
        expect(text.startsWith('This ')).toBe(at === 'field');
      }
    }
  });

  it('tells lengths in feet and miles where they are wanted', () => {
    const long = error(
      message`it is ${{ lengthM: 612_400, kmDecimals: 0 }} long; one point every ${{ few: 'metres' }}, ${{ lengthM: 50 }} off`,
    );
    expect(errorText(long, 'metric')).toBe('it is 612 km long; one point every few metres, 50 m off');
    expect(errorText(long, 'us')).toBe('it is 380 mi long; one point every few feet, 160 ft off');
  });

  it('tells a field of a form its bounds in its own unit, and what was typed there', () => {
    const high = error(message`${SUBJECT} ${{ departs: 'wrong', wanted: number, found: 9144 }}`);
    expect(errorText(high, 'us')).toContain(
      '/sleepElevationM must be a number from -430 to 6000; found 9144.',
    );
    const figure = { name: 'ft', perUnit: 0.3048, typed: '30000' };
    expect(errorText(high, 'us', { at: 'field', figure })).toBe(
      'This must be a number from -1,410 to 19,685 ft; found 30000.',
    );
  });

  it('says in its own sentence to a field what programs are told behind the field’s name', () => {
    const head = error(message`${{ ...SUBJECT, isHead: true }}${message`no route has ${'"X"'}.`}`);
    expect(errorText(head, 'metric')).toBe('The cohort field /sleepElevationM: no route has "X".');
    expect(errorText(head, 'metric', { at: 'field' })).toBe('No route has "X".');
  });

  it('asks programs for a field and people for a tick', () => {
    const doubt = error(message`${{ notes: [{ code: 'dem-empty', values: {} }] }} Or ${{ act: 'confirm' }}`);
    expect(errorText(doubt, 'metric')).toContain('send "confirmed": true');
    expect(errorText(doubt, 'metric', { at: 'form' })).toContain('tick “');
  });

  it('repeats no long quote, and knows whether it names its place', () => {
    const quoting = error(message`“${'x'.repeat(500)}” is none; ${'y'.repeat(500)}`, '/name');
    const text = errorText(quoting, 'metric');
    expect(text).toHaveLength(100 + 500 + '“” is none; '.length);
    expect(namesItsPlace(quoting)).toBe(false);
    expect(namesItsPlace(error(message`the field ${'/name'} is blank`, '/name'))).toBe(true);
  });
});
