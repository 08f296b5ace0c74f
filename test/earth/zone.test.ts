import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rfc3339 } from '../../src/earth/local-time.ts';
import { zoneOf } from '../../src/earth/zone.ts';

// Whole ten-thousandths: doubles drawn by their bits would nearly all lie next to 0.
const degrees = (min: number, max: number) =>
  fc.integer({ min: min * 1e4, max: max * 1e4 }).map((n) => n / 1e4);

describe('the time zone of a place', () => {
  it('is the one its clocks keep', () => {
    expect(zoneOf({ lonDeg: -30.2, latDeg: 46.1 })).toBe('Etc/GMT+2');
    expect(zoneOf({ lonDeg: -105, latDeg: 39.7 })).toBe('America/Denver');
    expect(zoneOf({ lonDeg: 8.5, latDeg: 46 })).toBe('Europe/Rome');
  });

  it('is the one of its own side of a border, on mountains that a rounded table puts on the other', () => {
    expect(zoneOf({ lonDeg: -114.3139, latDeg: 38.9858 })).toBe('America/Los_Angeles'); // Wheeler Peak, Nevada
    const saana = zoneOf({ lonDeg: 20.851, latDeg: 69.043 });
    expect(rfc3339(Date.parse('2026-07-11T10:00:00Z'), saana)).toBe('2026-07-11T13:00:00+03:00');
  });

  it('does not mind a longitude past 180', () => {
    expect(zoneOf({ lonDeg: 329.8, latDeg: 46.1 })).toBe('Etc/GMT+2');
    expect(zoneOf({ lonDeg: 255, latDeg: 39.7 })).toBe('America/Denver');
  });

  it('answers everywhere, poles too, with a zone that this machine knows', () => {
    const anywhere = fc.record({
      lonDeg: degrees(-540, 540),
      latDeg: fc.oneof(fc.constantFrom(-90, 90), degrees(-90, 90)),
    });
    fc.assert(
      fc.property(anywhere, (place) => {
        expect(rfc3339(0, zoneOf(place))).toMatch(/^19(69|70)-.*[+-]\d\d:\d\d$/);
      }),
      { numRuns: 500 },
    );
  });

  it('refuses what is not a place', () => {
    expect(() => zoneOf({ lonDeg: 0, latDeg: 91 })).toThrow(RangeError);
    expect(() => zoneOf({ lonDeg: Number.NaN, latDeg: 0 })).toThrow(RangeError);
  });
});
