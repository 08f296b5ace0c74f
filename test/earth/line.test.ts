import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Place } from '../../src/earth/geodesic.ts';
import { boundingBox, cumulativeM, lineLengthM } from '../../src/earth/line.ts';

// Whole ten-thousandths: doubles drawn by their bits would nearly all lie next to 0.
const degrees = (min: number, max: number) =>
  fc.integer({ min: min * 1e4, max: max * 1e4 }).map((n) => n / 1e4);

const place: fc.Arbitrary<Place> = fc.record({
  lonDeg: degrees(-180, 180),
  latDeg: degrees(-90, 90),
});

describe('distance along a line', () => {
  it('starts with 0 and ends with the length', () => {
    const line = [0, 1, 3].map((lonDeg) => ({ lonDeg, latDeg: 0 }));
    const [atStart, atOne, atEnd] = cumulativeM(line);
    expect(atStart).toBe(0);
    expect(atOne).toBeCloseTo(111319.491, 3);
    expect(atEnd).toBeCloseTo(333958.472, 3);
    expect(lineLengthM(line)).toBe(atEnd);
  });

  it('gives nothing for no points and 0 for one', () => {
    expect(cumulativeM([])).toEqual([]);
    expect(lineLengthM([])).toBe(0);
    expect(cumulativeM([{ lonDeg: -30.2, latDeg: 46.1 }])).toEqual([0]);
  });

  it('keeps the length when the line is reversed or split', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 3, maxLength: 10 }), (line) => {
        const wholeM = lineLengthM(line);
        expect(lineLengthM(line.toReversed())).toBeCloseTo(wholeM, 5);
        expect(lineLengthM(line.slice(0, 2)) + lineLengthM(line.slice(1))).toBeCloseTo(wholeM, 5);
      }),
    );
  });

  it('does not see a full turn of longitude', () => {
    const across = [
      { lonDeg: 179.9, latDeg: 10 },
      { lonDeg: -179.9, latDeg: 10 },
    ];
    const unwrapped = [
      { lonDeg: 179.9, latDeg: 10 },
      { lonDeg: 180.1, latDeg: 10 },
    ];
    expect(lineLengthM(across)).toBeCloseTo(lineLengthM(unwrapped), 6);
  });
});

describe('the bounding box', () => {
  it('holds the line and no more', () => {
    const line = [
      { lonDeg: -30.2, latDeg: 46.1 },
      { lonDeg: -30.25, latDeg: 46.15 },
      { lonDeg: -30.18, latDeg: 46.12 },
    ];
    expect(boundingBox(line)).toEqual({ westDeg: -30.25, southDeg: 46.1, eastDeg: -30.18, northDeg: 46.15 });
  });

  it('stays narrow across the antimeridian', () => {
    const box = boundingBox([
      { lonDeg: 179.9, latDeg: 10 },
      { lonDeg: -179.8, latDeg: 11 },
    ]);
    expect(box.westDeg).toBe(179.9);
    expect(box.eastDeg).toBeCloseTo(180.2, 9);
  });

  it('of one point at 0, 0 is that point', () => {
    const nought = { westDeg: 0, southDeg: 0, eastDeg: 0, northDeg: 0 };
    expect(boundingBox([{ lonDeg: 0, latDeg: 0 }])).toEqual(nought);
  });

  it('of no points is our own mistake', () => {
    expect(() => boundingBox([])).toThrow(RangeError);
  });
});
