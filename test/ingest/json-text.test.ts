import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { jsonFaultIndex, pointerLine } from '../../src/ingest/json-text.ts';

const TEXT = `{
  "trailhead": {
    "name": "rockClass",
    "roadKm": "far"
  },
  "closures": [
    { "from": "06-01", "to": "06-10" },
    { "from": "a, [b]", "to": "06-10" }
  ],
  "rockClass": "seven",
  "name": 3
}`;

describe('the line of a JSON pointer', () => {
  it.each([
    ['/rockClass', 10],
    ['/name', 11],
    ['/trailhead', 2],
    ['/trailhead/roadKm', 4],
    ['/closures/1/from', 8],
    ['/closures/0', 7],
    ['/trailhead/rockClass', null],
    ['/closures/2', null],
    ['', null],
  ])('of %s is %s', (pointer, line) => {
    expect(pointerLine(TEXT, pointer)).toBe(line);
  });
});

describe('the place where JSON breaks', () => {
  it('is never found in JSON, and is where a foreign character was put', () => {
    fc.assert(
      fc.property(fc.json(), fc.nat(), (text, n) => {
        expect(jsonFaultIndex(text)).toBe(text.length);
        const at = n % (text.length + 1);
        const broken = `${text.slice(0, at)}\u0000${text.slice(at)}`;
        expect(jsonFaultIndex(broken)).toBeLessThanOrEqual(at);
      }),
      { numRuns: 300, seed: 6 },
    );
  });

  it.each([
    ['{"a":1,}', 7],
    ['{"a" 1}', 5],
    ['[1 2]', 3],
    ['[01]', 2],
    ['{"a":tru}', 5],
    ['["a\\q"]', 1],
    ['[1]]', 3],
    ['["abc', 5],
    ['{a:1}', 1],
  ])('is found in %s', (text, index) => {
    expect(() => JSON.parse(text)).toThrow();
    expect(jsonFaultIndex(text)).toBe(index);
  });
});
