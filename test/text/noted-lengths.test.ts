import { describe, expect, it } from 'vitest';
import { notedIn } from '../../src/text/noted-lengths.ts';

describe('a note in the units of its reader', () => {
  // 1 ft = 0.3048 m, 1 mile = 1,609.344 m (international, exact).
  it.each([
    ['3 gaps of 50 m to 1 km, the longest 640 m', '3 gaps of 160 ft to 0.62 mi, the longest 2,100 ft'],
    [
      'heights every 20 m, 60 m window, turning points of 5 m',
      'heights every 66 ft, 200 ft window, turning points of 16 ft',
    ],
    ['the line is 12.5 km long; 12.0 km count', 'the line is 7.77 mi long; 7.46 mi count'],
    ['a treeline of 2345 m is far off', 'a treeline of 7,694 ft is far off'],
    ['80000 m is a very long day', '50 mi is a very long day'],
    [
      'it may lie between 1130 and 2330 m; between 2 and 3 h',
      'it may lie between 3,710 ft and 7,640 ft; between 2 and 3 h',
    ],
    ['at most 1,000 m, or 0 m', 'at most 3,300 ft, or 0 ft'],
    ['faster than people walk: 5 min for 3.0 km', 'faster than people walk: 5 min for 1.9 mi'],
  ])('is told in feet and miles, as fine as it was written: %s', (text, told) => {
    expect(notedIn(text, 'us')).toBe(told);
  });

  it('leaves what is no length, and all of it where metres are wanted', () => {
    const text = '30 min at 1.2 m/s, 4 km/h, M11 of 3 mm; 1.5.2 m2';
    expect(notedIn(text, 'us')).toBe(text);
    expect(notedIn('50 m', 'metric')).toBe('50 m');
  });
});
