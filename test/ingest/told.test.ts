import { describe, expect, it } from 'vitest';
import { checkCohort, checkOuting } from '../../src/ingest/cohort-file.ts';

const DAY = { date: '2026-06-20', distanceM: 9000, gainM: 500 };
const MEMBERS = ['m1', 'fox-7', 'A', '12'];

describe('what is told of a day', () => {
  it('is tidied and kept', () => {
    const told = {
      turnedBecause: ' clouds\u202E  were building ',
      nearMisses: ['a stone\tcame loose', 'ice'],
    };
    expect(checkOuting({ ...DAY, ...told }, MEMBERS)).toMatchObject({
      turnedBecause: 'clouds were building',
      nearMisses: ['a stone came loose', 'ice'],
    });
    expect(checkOuting({ ...DAY, turnedBecause: null, nearMisses: null }, null)).toMatchObject(DAY);
  });

  it.each([
    ['turnedBecause', 'm1 was tired', '/turnedBecause'],
    ['turnedBecause', 'because of Fox-7.', '/turnedBecause'],
    ['nearMisses', ['ice', 'slipped (M1)'], '/nearMisses/1'],
    ['nearMisses', ['m1-and another'], '/nearMisses/0'],
  ])('never names a label: %s %j', (field, value, pointer) => {
    expect(() => checkOuting({ ...DAY, [field]: value }, MEMBERS)).toThrow(
      expect.objectContaining({ code: 'bad-outing', place: expect.objectContaining({ pointer }) }),
    );
    expect(() =>
      checkCohort({ name: 'A', participants: 4, members: MEMBERS, outings: [{ ...DAY, [field]: value }] }),
    ).toThrow(
      expect.objectContaining({ place: expect.objectContaining({ pointer: `/outings/0${pointer}` }) }),
    );
  });

  it('may hold a letter, a number, a word with a label in it, or anything where there are no labels', () => {
    for (const text of ['A stone fell 12 m', 'com1ng m10', 'foxes']) {
      expect(checkOuting({ ...DAY, turnedBecause: text }, MEMBERS).turnedBecause).toBe(text);
    }
    expect(checkOuting({ ...DAY, turnedBecause: 'm1' }, null).turnedBecause).toBe('m1');
  });

  it.each([
    [{ turnedBecause: 'x'.repeat(501) }, '/turnedBecause'],
    [{ turnedBecause: 3 }, '/turnedBecause'],
    [{ nearMisses: Array(21).fill('x') }, '/nearMisses'],
    [{ nearMisses: ['x'.repeat(501)] }, '/nearMisses/0'],
    [{ nearMisses: [''] }, '/nearMisses/0'],
    [{ nearMisses: 'x' }, '/nearMisses'],
  ])('is refused where it is too long or of another kind: case %#', (told, pointer) => {
    expect(() => checkOuting({ ...DAY, ...told }, null)).toThrow(
      expect.objectContaining({ code: 'bad-outing', place: expect.objectContaining({ pointer }) }),
    );
  });
});
