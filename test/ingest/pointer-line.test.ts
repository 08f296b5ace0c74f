import { describe, expect, it } from 'vitest';
import { pointerLine } from '../../src/ingest/pointer-line.ts';

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
