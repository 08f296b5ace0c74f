import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  clock,
  clockAfter,
  dateOf,
  daysBetween,
  isRealDate,
  localTimeMs,
  rfc3339,
  weekdayOf,
} from '../../src/earth/local-time.ts';

const iso = (epochMs: number) => new Date(epochMs).toISOString();

describe('local time to a moment', () => {
  it('takes the offset of the place', () => {
    // Etc/GMT+2 is two hours behind UTC: the sign runs the other way.
    expect(iso(localTimeMs('2026-07-11', '04:40', 'Etc/GMT+2'))).toBe('2026-07-11T06:40:00.000Z');
    expect(iso(localTimeMs('2026-07-11', '12:00', 'America/Denver'))).toBe('2026-07-11T18:00:00.000Z');
    expect(iso(localTimeMs('2026-01-11', '12:00', 'America/Denver'))).toBe('2026-01-11T19:00:00.000Z');
    expect(iso(localTimeMs('2026-07-11', '00:00', 'Europe/Rome'))).toBe('2026-07-10T22:00:00.000Z');
  });

  // Changes of 2026: United States 8 March and 1 November at 02:00 local; European Union 29 March and 25 October at
  // 01:00 UTC.
  it('moves a time that a clock change skips forward by the gap', () => {
    expect(rfc3339(localTimeMs('2026-03-08', '02:30', 'America/Denver'), 'America/Denver')).toBe(
      '2026-03-08T03:30:00-06:00',
    );
    expect(rfc3339(localTimeMs('2026-03-29', '02:30', 'Europe/Rome'), 'Europe/Rome')).toBe(
      '2026-03-29T03:30:00+02:00',
    );
  });

  it('takes the earlier of an hour that comes twice', () => {
    expect(rfc3339(localTimeMs('2026-11-01', '01:30', 'America/Denver'), 'America/Denver')).toBe(
      '2026-11-01T01:30:00-06:00',
    );
    expect(rfc3339(localTimeMs('2026-10-25', '02:30', 'Europe/Rome'), 'Europe/Rome')).toBe(
      '2026-10-25T02:30:00+02:00',
    );
  });

  it('reads back as the same clock and date on every minute around a change, but for the gap', () => {
    for (const [date, zone] of [
      ['2026-03-08', 'America/Denver'],
      ['2026-11-01', 'America/Denver'],
      ['2026-03-29', 'Europe/Rome'],
      ['2026-10-25', 'Europe/Rome'],
      ['2026-10-04', 'Australia/Lord_Howe'], // half an hour
    ] as const) {
      let moved = 0;
      for (let minute = 0; minute < 24 * 60; minute += 1) {
        const text = `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
        const ms = localTimeMs(date, text, zone);
        expect(dateOf(ms, zone)).toBe(date);
        expect(clockAfter(ms, zone, date)).toEqual({ days: 0, clock: clock(ms, zone) });
        if (clock(ms, zone) !== text) moved += 1;
        // No earlier moment of that day shows the same clock.
        expect(clock(ms - 3_600_000, zone)).not.toBe(text);
      }
      const gap = { '2026-03-08': 60, '2026-03-29': 60, '2026-10-04': 30 }[date as string] ?? 0;
      expect(moved).toBe(gap);
    }
  });

  it('counts the days from a date to the one that a clock shows', () => {
    const days = (text: string, clockText: string) =>
      clockAfter(localTimeMs(text, clockText, 'Pacific/Auckland'), 'Pacific/Auckland', '2026-07-11').days;
    expect([
      days('2026-07-10', '23:59'),
      days('2026-07-11', '00:00'),
      days('2026-07-11', '23:59'),
      days('2026-07-12', '00:00'),
      days('2025-07-11', '12:00'),
    ]).toEqual([-1, 0, 0, 1, -365]);
  });

  it('refuses what is not a date, a time or a zone', () => {
    for (const [date, time, zone] of [
      ['2026-02-30', '12:00', 'UTC'],
      ['2026-W07', '12:00', 'UTC'],
      ['2026-02-03', '24:00', 'UTC'],
      ['2026-02-03', '7:00', 'UTC'],
      ['2026-02-03', '07:00', 'Atlantis/Nowhere'],
    ] as const) {
      expect(() => localTimeMs(date, time, zone)).toThrow(RangeError);
    }
  });
});

describe('a moment in print', () => {
  it('carries the numeric offset of the place, UTC too', () => {
    const ms = Date.UTC(2026, 6, 11, 6, 40);
    expect(rfc3339(ms, 'Etc/GMT+2')).toBe('2026-07-11T04:40:00-02:00');
    expect(rfc3339(ms, 'UTC')).toBe('2026-07-11T06:40:00+00:00');
    expect(rfc3339(ms, 'Etc/GMT')).toBe('2026-07-11T06:40:00+00:00');
    expect(rfc3339(ms, 'Asia/Kathmandu')).toBe('2026-07-11T12:25:00+05:45');
  });

  it('drops fractions and, on the clock, seconds', () => {
    const ms = Date.UTC(2026, 6, 11, 6, 40, 59, 999);
    expect(rfc3339(ms, 'UTC')).toBe('2026-07-11T06:40:59+00:00');
    expect(clock(ms, 'UTC')).toBe('06:40');
    expect(clock(Date.UTC(2026, 6, 11), 'UTC')).toBe('00:00');
  });

  it('is on the date of the place', () => {
    expect(dateOf(Date.UTC(2026, 6, 11, 1), 'Etc/GMT+2')).toBe('2026-07-10');
    expect(dateOf(Date.UTC(2026, 6, 11, 23), 'Europe/Rome')).toBe('2026-07-12');
  });

  it('is read again by any RFC 3339 reader as the same second', () => {
    const zones = fc.constantFrom('Etc/GMT+2', 'Europe/Rome', 'America/Denver', 'Pacific/Chatham', 'UTC');
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4_102_444_800 }), zones, (s, zone) => {
        expect(Date.parse(rfc3339(1000 * s, zone))).toBe(1000 * s);
      }),
    );
  });

  it('is what the offset says, around changes of the clock too and where they do not fall on a quarter', () => {
    const changes = fc.constantFrom(
      ['Europe/Rome', Date.UTC(2026, 2, 29, 1)] as const,
      ['America/Denver', Date.UTC(2026, 10, 1, 8)] as const,
      ['Australia/Lord_Howe', Date.UTC(2026, 3, 4, 15)] as const,
      ['Africa/Monrovia', Date.UTC(1972, 0, 7, 0, 44, 30)] as const,
      ['Pacific/Apia', Date.UTC(2011, 11, 30, 10)] as const,
    );
    fc.assert(
      fc.property(changes, fc.integer({ min: -4e6, max: 4e6 }), ([zone, atMs], shiftMs) => {
        const text = rfc3339(atMs + shiftMs, zone);
        expect(clock(atMs + shiftMs, zone)).toBe(text.slice(11, 16));
        expect(dateOf(atMs + shiftMs, zone)).toBe(text.slice(0, 10));
      }),
      { numRuns: 1000 },
    );
  });

  it('is refused where it is no moment', () => {
    expect(() => clock(Number.NaN, 'UTC')).toThrow(RangeError);
    expect(() => dateOf(Number.POSITIVE_INFINITY, 'UTC')).toThrow(RangeError);
    expect(() => rfc3339(Number.NaN, 'UTC')).toThrow(RangeError);
    expect(() => clock(0, 'Atlantis/Nowhere')).toThrow(RangeError);
  });
});

describe('calendar days', () => {
  it('knows the leap days', () => {
    expect(isRealDate('2028-02-29')).toBe(true);
    expect(isRealDate('2000-02-29')).toBe(true);
    expect(isRealDate('2026-02-29')).toBe(false);
    expect(isRealDate('2100-02-29')).toBe(false);
  });

  it('takes no other way of writing a date', () => {
    for (const text of [
      '',
      '2026-7-11',
      '20260711',
      '2026-07-11T00:00',
      ' 2026-07-11',
      '2026-13-01',
      '11.07.2026',
    ]) {
      expect(isRealDate(text)).toBe(false);
    }
  });

  it('counts days over clock changes and leap days', () => {
    expect(daysBetween('2026-03-07', '2026-03-09')).toBe(2);
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
    expect(daysBetween('2026-07-11', '2026-07-11')).toBe(0);
    expect(daysBetween('2026-07-11', '2026-07-04')).toBe(-7);
    expect(addDays('2028-02-28', 1)).toBe('2028-02-29');
    expect(addDays('2026-01-01', -1)).toBe('2025-12-31');
  });

  it('knows the day of the week, before 1970 too', () => {
    // From a printed calendar; 20 July 1969 was a Sunday.
    expect(weekdayOf('2026-07-11')).toBe(6);
    expect(weekdayOf('1969-07-20')).toBe(7);
    expect(weekdayOf('1970-01-01')).toBe(4);
    fc.assert(
      fc.property(fc.integer({ min: -40_000, max: 40_000 }), (days) => {
        const date = addDays('2026-07-11', days);
        expect(weekdayOf(date)).toBe(new Date(`${date}T00:00:00Z`).getUTCDay() || 7);
      }),
    );
  });

  it('adds what it counts', () => {
    fc.assert(
      fc.property(fc.integer({ min: -40_000, max: 40_000 }), (days) => {
        expect(daysBetween('2026-07-11', addDays('2026-07-11', days))).toBe(days);
      }),
    );
  });

  it('refuses unreal dates and parts of days', () => {
    expect(() => daysBetween('2026-02-29', '2026-03-01')).toThrow(RangeError);
    expect(() => addDays('2026-07-11', 0.5)).toThrow(RangeError);
  });
});
