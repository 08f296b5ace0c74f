import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrappedTable } from '../../src/cli/wrapped-table.ts';

const length = (text: string): number => [...text].length;
const word = fc.stringMatching(/^[a-zäø北👣]{1,9}$/u);
const cell = fc.array(word, { maxLength: 8 }).map((words) => words.join(' '));
const table = fc
  .integer({ min: 1, max: 8 })
  .chain((columns) => fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), { maxLength: 6 }));

describe('wrappedTable', () => {
  it('aligns columns that fit as they are', () => {
    expect(
      wrappedTable(
        [
          ['Place', 'From start'],
          ['Old Bridge', '1.0 km'],
        ],
        40,
      ),
    ).toEqual(['Place       From start', 'Old Bridge  1.0 km']);
  });

  it('breaks the widest cells at spaces, the others beside their first line', () => {
    expect(wrappedTable([['1', 'a path that winds up to the saddle', 'x']], 24)).toEqual([
      '1  a path that winds   x',
      '   up to the saddle',
    ]);
  });

  it('keeps to the width wherever the longest words let it', () => {
    fc.assert(
      fc.property(table, fc.integer({ min: 10, max: 110 }), (rows, width) => {
        const columns = rows[0]?.length ?? 0;
        const least = Array.from({ length: columns }, (_, i) =>
          Math.max(0, ...rows.flatMap((row) => (row[i] ?? '').split(' ').map(length))),
        ).reduce((sum, one) => sum + one + 2, -2);
        const widest = Math.max(0, ...wrappedTable(rows, width).map(length));
        expect(widest).toBeLessThanOrEqual(Math.max(width, least));
      }),
    );
  });

  it('keeps every word whole and in its order, and ends no line in spaces', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(cell), { maxLength: 6 }),
        fc.integer({ min: 1, max: 40 }),
        (rows, width) => {
          const lines = wrappedTable(rows, width);
          expect(lines.every((line) => line === line.trimEnd())).toBe(true);
          expect(lines.filter((line) => line !== '').join(' ')).toBe(
            rows
              .map(([text]) => text)
              .filter((text) => text !== '')
              .join(' '),
          );
        },
      ),
    );
  });

  it('keeps a word that is longer than the width', () => {
    expect(wrappedTable([['a', 'https://example.org/long-way', 'b c']], 10)).toEqual([
      'a  https://example.org/long-way  b',
      '                                 c',
    ]);
  });

  it('leaves room for empty cells, and a line for a row of nothing else', () => {
    expect(
      wrappedTable(
        [
          ['a', '', 'c'],
          ['', 'b', ''],
          ['', '', ''],
        ],
        20,
      ),
    ).toEqual(['a     c', '   b', '']);
  });

  it('counts characters, not the units they are stored in', () => {
    expect(
      wrappedTable(
        [
          ['Ø𝄞', 'x'],
          ['ab', 'y'],
        ],
        20,
      ),
    ).toEqual(['Ø𝄞  x', 'ab  y']);
  });

  it('has one column, rows of unequal length, or nothing at all', () => {
    expect(wrappedTable([['one two three']], 7)).toEqual(['one two', 'three']);
    expect(wrappedTable([['a'], ['b', 'c']], 20)).toEqual(['a', 'b  c']);
    expect(wrappedTable([], 20)).toEqual([]);
    expect(wrappedTable([[]], 20)).toEqual(['']);
  });
});
