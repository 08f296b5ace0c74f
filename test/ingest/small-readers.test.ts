import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geodesicM } from '../../src/earth/geodesic.ts';
import { isRealDate } from '../../src/earth/local-time.ts';
import { parseDecimal, roundCoordinate } from '../../src/ingest/decimal.ts';
import { nearestName } from '../../src/ingest/nearest-name.ts';
import { quote } from '../../src/ingest/quote.ts';
import { rockClassValue } from '../../src/ingest/rock-class.ts';
import { stepM } from '../../src/ingest/step-length.ts';
import { readTime } from '../../src/ingest/times.ts';

describe('decimal numbers', () => {
  it('reads the example', () => {
    expect(parseDecimal('+46.5')).toBe(46.5);
  });

  it('reads whatever JavaScript prints of a finite number', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (x) => {
        expect(parseDecimal(String(x))).toBe(x + 0);
      }),
      { seed: 3 },
    );
  });

  it('reads nothing else', () => {
    for (const text of [
      '',
      '.',
      '+',
      '1e',
      '1e5.5',
      '0x1',
      '1_0',
      '1 0',
      '1,5',
      'NaN',
      'Infinity',
      '1e400',
      '１',
    ]) {
      expect(parseDecimal(text), text).toBeNull();
    }
  });

  it('rounds to 1e-7 and keeps what is rounded', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1_800_000_000, max: 1_800_000_000 }), (e7) => {
        expect(roundCoordinate(e7 / 1e7)).toBe(e7 / 1e7 + 0);
      }),
      { seed: 3 },
    );
  });
});

describe('times of points', () => {
  const known = (text: string): number | null => {
    const reading = readTime(text);
    return typeof reading === 'number' ? reading : null;
  };

  it('reads back every instant that JavaScript prints since 1970', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 253_402_300_799_999 }), (timeMs) => {
        expect(known(new Date(timeMs).toISOString())).toBe(timeMs);
      }),
      { seed: 4 },
    );
  });

  it('reads offsets with and without a colon, fractions, and white space', () => {
    const noon = Date.UTC(2026, 6, 11, 12);
    for (const text of [
      '2026-07-11T12:00:00Z',
      '2026-07-11T14:00:00+02:00',
      '2026-07-11T06:00:00-0600',
      ' 2026-07-11T12:00:00.000999Z\n',
    ]) {
      expect(known(text), text).toBe(noon);
    }
  });

  it('tells a missing zone from an unreadable time', () => {
    expect(readTime('2026-07-11T12:00:00')).toBe('zoneUnknown');
    for (const text of [
      '2026-07-11',
      '2026-07-11 12:00:00Z',
      '2026-13-01T00:00:00Z',
      '2025-02-29T00:00:00Z',
      '2026-07-11T12:60:00Z',
      '2026-07-11T12:00:60Z',
      '2026-07-11T12:00:00+15:00',
      '1969-12-31T23:59:59Z',
      '-2026-07-11T12:00:00Z',
      '12026-07-11T12:00:00Z',
    ]) {
      expect(readTime(text), text).toBe('unreadable');
    }
  });

  it('knows the days of the calendar', () => {
    expect(isRealDate('2024-02-29')).toBe(true);
    expect(isRealDate('2025-02-29')).toBe(false);
    expect(isRealDate('1900-02-29')).toBe(false);
    expect(isRealDate('2026-04-31')).toBe(false);
  });
});

describe('rock classes as numbers', () => {
  // Project sources, section 12: the parser's checks ("design encoding").
  it.each([
    ['2+', 2.33],
    ['3-', 2.67],
    ['3', 3],
    ['4-', 3.67],
    ['5.4', 5],
    ['3s4', 4],
    ['1', 1],
    ['5.10a', 5],
    ['4s3+', 4],
    ['2+s2', 2.33],
  ])('reads %s as %d', (text, value) => {
    expect(rockClassValue(text)).toBe(value);
  });

  it('throws on what the schema would have refused', () => {
    for (const text of ['', '0', '6', '3.4', '2++', 's3', '3s', '2 ', '5.']) {
      expect(() => rockClassValue(text), text).toThrow(RangeError);
    }
  });
});

describe('the length of a step', () => {
  it('is within 1e-5 of the geodesic, or is the geodesic', () => {
    const step = fc.record({
      latDeg: fc.double({ min: -89, max: 89, noNaN: true }),
      lonDeg: fc.double({ min: -180, max: 180, noNaN: true }),
      north: fc.double({ min: -0.06, max: 0.06, noNaN: true }),
      east: fc.double({ min: -0.06, max: 0.06, noNaN: true }),
    });
    fc.assert(
      fc.property(step, ({ latDeg, lonDeg, north, east }) => {
        const from = { latDeg, lonDeg };
        const to = { latDeg: latDeg + north, lonDeg: lonDeg + east };
        const truthM = geodesicM(from, to);
        expect(Math.abs(stepM(from, to) - truthM)).toBeLessThanOrEqual(1e-5 * truthM + 1e-6);
      }),
      { numRuns: 2000, seed: 5 },
    );
  });

  it('does not count a whole turn', () => {
    expect(stepM({ latDeg: 46, lonDeg: 179.9999 }, { latDeg: 46, lonDeg: -179.9999 })).toBeCloseTo(15.48, 1);
    expect(stepM({ latDeg: 46, lonDeg: -180 }, { latDeg: 46, lonDeg: 180 })).toBe(0);
  });
});

describe('words for messages', () => {
  it('finds the name that was meant', () => {
    const known = ['rockClass', 'closures', 'participants'];
    expect(nearestName('rock_class', known)).toBe('rockClass');
    expect(nearestName('closure', known)).toBe('closures');
    expect(nearestName('particpants', known)).toBe('participants');
    expect(nearestName('colour', known)).toBeNull();
    expect(nearestName('x'.repeat(1e6), known)).toBeNull();
  });

  it('quotes hostile text shortly and plainly', () => {
    expect(quote('a\n\u202eb\ud800')).toBe('"a??b?"');
    expect(quote('x'.repeat(99))).toBe(`"${'x'.repeat(40)}…"`);
  });
});
