import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalDegreesText, degreesMinutesText } from '../../src/text/coordinate-text.ts';

/** Back from text to degrees: the first number is degrees, a second one minutes. */
function degrees(text: string): number {
  const [whole = 0, minutes = 0] = [...text.matchAll(/[\d.]+/g)].map(([number]) => Number(number));
  return (whole + minutes / 60) * (/[SW]$/.test(text) ? -1 : 1);
}

describe('coordinates to be read out', () => {
  it('carry: 59.9999 minutes are the next degree, never 60 minutes', () => {
    expect(degreesMinutesText({ latDeg: 45.999999, lonDeg: -30 })).toBe('46° 00.000′ N, 30° 00.000′ W');
  });

  it('turn a longitude that ran past the antimeridian', () => {
    expect(decimalDegreesText({ latDeg: -1, lonDeg: 181 })).toBe('1.00000 S, 179.00000 W');
  });

  it('give the place back within their last digit', () => {
    const place = fc.record({
      latDeg: fc.double({ min: -90, max: 90, noNaN: true }),
      lonDeg: fc.double({ min: -179.9, max: 179.9, noNaN: true }),
    });
    fc.assert(
      fc.property(place, (spot) => {
        for (const [text, digit] of [
          [decimalDegreesText(spot), 0.5e-5],
          [degreesMinutesText(spot), 0.5e-3 / 60],
        ] as const) {
          const [lat = '', lon = ''] = text.split(', ');
          expect(Math.abs(degrees(lat) - spot.latDeg)).toBeLessThanOrEqual(digit + 1e-9);
          expect(Math.abs(degrees(lon) - spot.lonDeg)).toBeLessThanOrEqual(digit + 1e-9);
        }
      }),
    );
  });
});
