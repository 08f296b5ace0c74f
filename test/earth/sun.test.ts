import {
  Body,
  Equator,
  Horizon,
  Observer,
  SearchAltitude,
  SearchHourAngle,
  SearchRiseSet,
} from 'astronomy-engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Place } from '../../src/earth/geodesic.ts';
import { addDays, dateOf, localTimeMs } from '../../src/earth/local-time.ts';
import { type SunDay, sunDay } from '../../src/earth/sun.ts';
import { zoneOf } from '../../src/earth/zone.ts';

// Whole ten-thousandths: doubles drawn by their bits would nearly all lie next to 0.
const degrees = (min: number, max: number) =>
  fc.integer({ min: min * 1e4, max: max * 1e4 }).map((n) => n / 1e4);

const TOLERANCE_S = 90;
/** Seconds between a time of the sun and an RFC 3339 text. */
const offS = (got: number | null, expected: string) =>
  got === null ? Number.POSITIVE_INFINITY : Math.abs(got - Date.parse(expected)) / 1000;

const PUBLISHED: readonly {
  at: string;
  source: string;
  place: Place;
  zone: string;
  date: string;
  expected: Partial<Record<keyof SunDay, string>>;
}[] = [
  {
    at: '40 N 105 W',
    source: 'NOAA spreadsheet, through the tests of slott56/navtools [P2]',
    place: { lonDeg: -105, latDeg: 40 },
    zone: 'America/Denver',
    date: '2021-06-23',
    expected: {
      solarNoonMs: '2021-06-23T13:02:15-06:00',
      sunriseMs: '2021-06-23T05:31:53-06:00',
      sunsetMs: '2021-06-23T20:32:37-06:00',
    },
  },
  {
    at: 'London',
    source: 'astral tests [P2]',
    place: { lonDeg: -0.1333, latDeg: 51.5 },
    zone: 'Europe/London',
    date: '2015-12-01',
    expected: {
      civilDawnMs: '2015-12-01T07:04:00Z',
      sunriseMs: '2015-12-01T07:43:00Z',
      sunsetMs: '2015-12-01T15:55:00Z',
      civilDuskMs: '2015-12-01T16:34:00Z',
    },
  },
  {
    at: 'London',
    source: 'astral tests [P2]',
    place: { lonDeg: -0.1333, latDeg: 51.5 },
    zone: 'Europe/London',
    date: '2015-12-25',
    expected: {
      civilDawnMs: '2015-12-25T07:25:00Z',
      sunriseMs: '2015-12-25T08:05:00Z',
      sunsetMs: '2015-12-25T15:55:00Z',
      civilDuskMs: '2015-12-25T16:36:00Z',
    },
  },
  {
    at: 'Kukuihaele, Hawaii',
    source: 'USNO, through a context test [P2]',
    place: { lonDeg: -(155 + 34 / 60), latDeg: 20 + 7 / 60 },
    zone: 'Pacific/Honolulu',
    date: '2015-04-02',
    expected: { sunriseMs: '2015-04-02T16:15:00Z' },
  },
  {
    at: 'Kukuihaele, Hawaii',
    source: 'USNO, through a context test [P2]',
    place: { lonDeg: -(155 + 34 / 60), latDeg: 20 + 7 / 60 },
    zone: 'Pacific/Honolulu',
    date: '2015-04-03',
    expected: { sunriseMs: '2015-04-03T16:14:00Z' },
  },
  {
    at: 'Wellington',
    source: 'astral tests [P2]',
    place: { lonDeg: 174.7667, latDeg: -41.33 },
    zone: 'Pacific/Auckland',
    date: '2020-02-11',
    expected: { sunriseMs: '2020-02-11T06:38:42+13:00', sunsetMs: '2020-02-11T20:31:00+13:00' },
  },
  {
    at: 'New Delhi',
    source: 'astral tests [P2]',
    place: { lonDeg: 77.22, latDeg: 28.61 },
    zone: 'Asia/Kolkata',
    date: '2015-12-01',
    expected: { civilDawnMs: '2015-12-01T06:30:00+05:30' },
  },
  {
    at: 'Denver',
    source: 'computed from the same equations [C]',
    place: { lonDeg: -104.99, latDeg: 39.74 },
    zone: 'America/Denver',
    date: '2025-07-01',
    expected: {
      civilDawnMs: '2025-07-01T05:03:24-06:00',
      civilDuskMs: '2025-07-01T21:04:17-06:00',
      sunriseMs: '2025-07-01T05:35:54-06:00',
      sunsetMs: '2025-07-01T20:31:50-06:00',
    },
  },
];

describe('the sun of a day', () => {
  for (const { at, source, place, zone, date, expected } of PUBLISHED) {
    it(`is right at ${at} on ${date} (${source})`, () => {
      const day = sunDay(date, place, zone);
      for (const [event, time] of Object.entries(expected)) {
        const got = day[event as keyof SunDay];
        expect(offS(typeof got === 'number' ? got : null, time), event).toBeLessThan(TOLERANCE_S);
      }
      expect(day.polar).toBeNull();
    });
  }

  it('goes through polar day and night without a sunset or a sunrise', () => {
    const tromso = { lonDeg: 18.95, latDeg: 69.6 };
    // 69.6 N 18.95 E has no sunset on 2019-06-05 [P2].
    expect(sunDay('2019-06-05', tromso, 'Europe/Oslo')).toMatchObject({
      sunriseMs: null,
      sunsetMs: null,
      civilDawnMs: null,
      civilDuskMs: null,
      polar: 'day',
    });
    const midwinter = sunDay('2019-12-21', tromso, 'Europe/Oslo');
    expect(midwinter).toMatchObject({ sunriseMs: null, sunsetMs: null, polar: 'night' });
    // Some hours of twilight are left at noon.
    expect(midwinter.civilDawnMs).toBeLessThan(midwinter.solarNoonMs);
    expect(midwinter.civilDuskMs).toBeGreaterThan(midwinter.solarNoonMs);
  });

  it('has no dawn where twilight lasts all night', () => {
    const helsinki = sunDay('2026-06-21', { lonDeg: 24.9, latDeg: 62 }, 'Europe/Helsinki');
    expect(helsinki).toMatchObject({ civilDawnMs: null, civilDuskMs: null, polar: null });
    expect(helsinki.sunriseMs).not.toBeNull();
  });

  it('never breaks, and orders its events, anywhere on any day', () => {
    const anywhere = fc.record({
      lonDeg: degrees(-360, 360),
      latDeg: fc.oneof(fc.constantFrom(-90, 0, 90), degrees(-90, 90)),
    });
    fc.assert(
      fc.property(anywhere, fc.integer({ min: 0, max: 40_000 }), (place, n) => {
        const date = addDays('1990-01-01', n);
        const zone = zoneOf(place);
        const day = sunDay(date, place, zone);
        // Half a day and the equation of time, where a zone's clock is as far from the sun as can be.
        const fromClockNoonMs = Math.abs(day.solarNoonMs - localTimeMs(date, '12:00', zone));
        expect(fromClockNoonMs).toBeLessThan((12 * 60 + 17) * 60_000);
        expect(day.sunriseMs === null).toBe(day.sunsetMs === null);
        expect(day.sunriseMs === null).toBe(day.polar !== null);
        expect(day.civilDawnMs === null).toBe(day.civilDuskMs === null);
        const events = [day.civilDawnMs, day.sunriseMs, day.solarNoonMs, day.sunsetMs, day.civilDuskMs];
        const known = events.filter((ms) => ms !== null);
        expect(known.every(Number.isFinite)).toBe(true);
        expect(known.toSorted((a, b) => a - b)).toEqual(known);
      }),
      { numRuns: 2000 },
    );
  });

  it('belongs to the calendar day of the zone, even where clocks are far from the sun', () => {
    // Kiritimati keeps UTC+14 where the mean sun keeps UTC−10.5; Kashgar keeps Peking's clock.
    for (const [place, zone] of [
      [{ lonDeg: -157.4, latDeg: 1.9 }, 'Pacific/Kiritimati'],
      [{ lonDeg: 202.6, latDeg: 1.9 }, 'Pacific/Kiritimati'],
      [{ lonDeg: 76, latDeg: 39.5 }, 'Asia/Shanghai'],
    ] as const) {
      expect(dateOf(sunDay('2026-07-11', place, zone).solarNoonMs, zone)).toBe('2026-07-11');
    }
  });
});

describe('the sun against astronomy-engine', () => {
  // astronomy-engine 2.1.19: full planetary theory and delta T; rise and set of the upper limb with 34' of refraction;
  // civil twilight of the centre at −6° without refraction. The same definitions as NOAA's.
  const worstS = (maxLatDeg: number, minLatDeg: number, seed: number) => {
    const where = fc.tuple(
      degrees(-180, 180),
      degrees(minLatDeg, maxLatDeg),
      fc.boolean(),
      fc.integer({ min: 0, max: 365 * 40 }),
    );
    let compared = 0;
    let worst = 0;
    for (const [lonDeg, latAbs, south, n] of fc.sample(where, { seed, numRuns: 200 })) {
      const place = { lonDeg, latDeg: south ? -latAbs : latAbs };
      const day = sunDay(addDays('2010-01-01', n), place, zoneOf(place));
      const observer = new Observer(place.latDeg, place.lonDeg, 0);
      const before = new Date(day.solarNoonMs - 12 * 3_600_000);
      const noon = new Date(day.solarNoonMs);
      const pairs = [
        [day.solarNoonMs, SearchHourAngle(Body.Sun, observer, 0, before).time],
        [day.sunriseMs, SearchRiseSet(Body.Sun, observer, 1, before, 0.5)],
        [day.sunsetMs, SearchRiseSet(Body.Sun, observer, -1, noon, 0.5)],
        [day.civilDawnMs, SearchAltitude(Body.Sun, observer, 1, before, 0.5, -6)],
        [day.civilDuskMs, SearchAltitude(Body.Sun, observer, -1, noon, 0.5, -6)],
      ] as const;
      for (const [ours, theirs] of pairs) {
        if (ours === null || theirs === null) {
          // Both say never; or the sun only grazes its height, close to solar midnight or noon, and one of us misses it.
          const grazeMs = ours ?? theirs?.date.getTime() ?? day.solarNoonMs;
          const hours = Math.abs(grazeMs - day.solarNoonMs) / 3_600_000;
          expect(Math.min(hours, 12 - hours), JSON.stringify(place)).toBeLessThan(0.5);
          continue;
        }
        compared += 1;
        worst = Math.max(worst, Math.abs(ours - theirs.date.getTime()) / 1000);
      }
    }
    return { compared, worst };
  };

  it('agrees at 200 places and dates within ±60° of latitude', () => {
    const { compared, worst } = worstS(60, 0, 20260711);
    expect(compared).toBe(1000);
    expect(worst).toBeLessThan(10); // 7 s today
  });

  it('agrees less closely at 60 to 66°, where the sun meets the horizon at a flat angle', () => {
    const { compared, worst } = worstS(66, 60, 20260712);
    expect(compared).toBe(921); // the rest: twilight all night, and one sun that grazes the horizon
    expect(worst).toBeLessThan(30); // 23 s today
  });

  it('agrees on polar day and polar night at 200 places and dates beyond 66.5° in both hemispheres', () => {
    const altitudeDeg = (epochMs: number, place: Place) => {
      const observer = new Observer(place.latDeg, place.lonDeg, 0);
      const time = new Date(epochMs);
      const { ra, dec } = Equator(Body.Sun, time, observer, true, true);
      return Horizon(time, observer, ra, dec).altitude; // no refraction
    };
    const where = fc.tuple(
      degrees(-180, 180),
      degrees(66.5, 89.5),
      fc.boolean(),
      fc.integer({ min: 0, max: 365 * 40 }),
    );
    const count = { day: 0, night: 0, neither: 0, close: 0 };
    for (const [lonDeg, latAbs, south, n] of fc.sample(where, { seed: 20260713, numRuns: 200 })) {
      const place = { lonDeg, latDeg: south ? -latAbs : latAbs };
      const day = sunDay(addDays('2010-01-01', n), place, zoneOf(place));
      const halfDayMs = 12 * 3_600_000;
      const noonDeg = altitudeDeg(day.solarNoonMs, place);
      const midnightsDeg = [-halfDayMs, halfDayMs].map((ms) => altitudeDeg(day.solarNoonMs + ms, place));
      // On the day the light changes, one midnight has sun and the other none: the sun's declination moves up to
      // 0.2° in half a day.
      if ([noonDeg, ...midnightsDeg].some((deg) => Math.abs(deg + 0.833) < 0.2)) {
        count.close += 1;
        continue;
      }
      const expected = noonDeg < -0.833 ? 'night' : midnightsDeg.every((deg) => deg > -0.833) ? 'day' : null;
      expect(day.polar, JSON.stringify([place, n])).toBe(expected);
      count[expected ?? 'neither'] += 1;
    }
    expect(count.day).toBeGreaterThan(40);
    expect(count.night).toBeGreaterThan(40);
    expect(count.neither).toBeGreaterThan(40);
    expect(count.close).toBeLessThan(15);
  });
});
