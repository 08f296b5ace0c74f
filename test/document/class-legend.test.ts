import { describe, expect, it } from 'vitest';
import { classLegend } from '../../src/document/participant-page.ts';

const markedClasses = (rockClass: string | null) => {
  const { table } = classLegend(rockClass, null);
  return table?.marked.map((index) => table.rows[index]?.[0]);
};
const noteOf = (rockClass: string | null) => classLegend(rockClass, null).lines[0]?.text;

describe('the legend of the classes', () => {
  it.each([
    ['1', ['1']],
    ['2+', ['2']],
    ['3-', ['3']],
    ['4', ['4']],
    ['5.10b', ['5']],
    ['3s4', ['3', '4']],
    ['3s3+', ['3']],
  ])('marks %s', (rockClass, marked) => {
    expect(markedClasses(rockClass)).toEqual(marked);
    expect(classLegend(rockClass, null).table?.rows.filter((row) => row[2] === 'here')).toHaveLength(
      marked.length,
    );
  });

  it('says what plus, minus and a summit block mean', () => {
    expect(noteOf('2+')).toContain('class 2+, at its harder end');
    expect(noteOf('3-')).toContain('easier end');
    expect(noteOf('3s4')).toContain('class 4 for the last piece');
    expect(noteOf('5.4')).toContain('class 5.4.');
  });

  it('marks nothing where the class is not stated, and says so', () => {
    expect(markedClasses(null)).toEqual([]);
    expect(noteOf(null)).toMatch(/not stated/);
  });
});
