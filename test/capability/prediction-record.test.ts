import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { fitPaceModel } from '../../src/capability/pace-model.ts';
import { predictionRecord, predictionRow, recordOf, wilson } from '../../src/capability/prediction-record.ts';
import { DESIGN } from '../../src/design.ts';
import { addDays } from '../../src/earth/local-time.ts';
import { predictionText } from '../../src/text/shown-words.ts';

const UNTIL = '2026-12-31';
const day = (date: string, more: Partial<Outing> = {}): Outing => ({
  ...handOuting({ date, distanceM: 9000, gainM: 600, movingMin: 240 }),
  ...more,
});
const record = (outings: readonly Outing[], until = UNTIL) =>
  predictionRecord(outings, until, (before) => fitPaceModel(before, DESIGN), DESIGN);

/** Days of a season by hand, in any order. */
const season = fc.array(
  fc
    .record({
      offset: fc.integer({ min: 0, max: 100 }),
      distanceM: fc.integer({ min: 3000, max: 18_000 }),
      gainM: fc.integer({ min: 50, max: 1400 }),
      share: fc.double({ min: 0.7, max: 1.6, noNaN: true }),
    })
    .map(({ offset, distanceM, gainM, share }) =>
      handOuting({
        date: addDays('2026-03-01', offset),
        distanceM,
        gainM,
        movingMin: Math.round(share * ((distanceM / 1609.344) * 30 + (gainM / 304.8) * 60)),
      }),
    ),
  { minLength: 1, maxLength: 6 },
);

describe('the record of predictions', () => {
  it('never changes an earlier row when a later day is added', () => {
    fc.assert(
      fc.property(season, season, (outings, others) => {
        const later = others.map((outing) => ({ ...outing, date: addDays(outing.date, 101) }));
        const before = record(outings).rows;
        expect(record([...later, ...outings]).rows.slice(0, before.length)).toEqual(before);
      }),
      { numRuns: 40 },
    );
  });

  it('predicts a day without what that day took', () => {
    fc.assert(
      fc.property(season, fc.integer({ min: 60, max: 900 }), (outings, movingMin) => {
        const last = day('2026-09-01');
        const slow = { ...last, movingMin, parts: last.parts.map((part) => ({ ...part, movingMin })) };
        const predicted = (one: Outing) => record([...outings, one]).rows.at(-1)?.predictedMin;
        expect(predicted(slow)).toEqual(predicted(last));
      }),
      { numRuns: 40 },
    );
  });

  it('predicts the first day from the rule alone, and two of one day from neither of the two', () => {
    const rows = record([
      day('2026-06-01', { members: ['a'] }),
      day('2026-06-08', { members: ['a'] }),
      day('2026-06-08', { members: ['b'], distanceM: 5000 }),
    ]).rows;
    expect(rows.map(({ outingsBefore }) => outingsBefore)).toEqual([0, 1, 1]);
  });

  it('is in the order of the dates, whatever the order given', () => {
    const outings = ['2026-06-08', '2026-05-01', '2026-07-09'].map((date) => day(date));
    expect(record(outings)).toEqual(record(outings.toReversed()));
    expect(record(outings).rows.map(({ date }) => date)).toEqual(['2026-05-01', '2026-06-08', '2026-07-09']);
  });

  it('leaves out days that are not wholly timed, later than asked, over a year ago, or nobody’s', () => {
    const half = day('2026-06-02');
    const outings = [
      day('2026-06-01', { quantities: null }),
      {
        ...half,
        parts: half.parts.map((part) => ({ ...part, quantities: { ...part.quantities, downKm: 0 } })),
      },
      day('2026-06-03', { movingMin: null }),
      day('2026-06-04', { parts: [] }),
      day('2026-06-05', { members: [] }),
      day('2025-06-20'),
      day('2026-06-21'),
    ];
    expect(record(outings, '2026-06-20').rows).toEqual([]);
    expect(record(outings, '2026-06-20')).toMatchObject({
      n: 0,
      coverage: null,
      medianErrorMin: null,
      medianRatio: null,
      tendency: null,
    });
  });

  it('counts a walk that was recorded twice once', () => {
    const one = day('2026-06-01', { source: 'track', clockFromMs: 0, clockToMs: 1e7 });
    expect(record([one, { ...one, distanceM: 8900 }]).n).toBe(1);
  });

  it('says on which side the days fall, and by how much', () => {
    const prior = fitPaceModel([], DESIGN);
    const rows = (share: number) =>
      [1, 1, 1].flatMap((_, i) => {
        const plain = predictionRow(day(`2026-06-0${i + 1}`), prior);
        const movingMin = share * (plain?.predictedMin.p50 ?? 0);
        const row = predictionRow(day(`2026-06-0${i + 1}`, { movingMin }), prior);
        return row === null ? [] : [row];
      });
    const slower = recordOf(rows(1.3));
    expect(slower.tendency).toBe('slower');
    expect(slower.medianRatio).toBeCloseTo(1.3, 9);
    expect(predictionText(slower)).toContain('slower than predicted, by 30 % in the middle: the unsafe side');
    expect(recordOf(rows(0.8)).tendency).toBe('faster');
    expect(recordOf(rows(1.02)).tendency).toBe('asPredicted');
    expect(recordOf(rows(3))).toMatchObject({ inside80: 0, laterThanP90: 3 });
  });

  it('says that few days say little', () => {
    const text = predictionText(record(['2026-06-01', '2026-06-08', '2026-06-15'].map((date) => day(date))));
    expect(text).toMatch(/^3 days say little\. \d of 3 days inside the range that should hold 8 in 10/);
    expect(text).toContain('95 % confidence');
  });

  it('expects a climb higher than the training to take longer', () => {
    const pace = fitPaceModel([day('2026-05-01', { climbElevationM: 0 })], DESIGN);
    const at = (climbElevationM: number | null) =>
      predictionRow(day('2026-06-01', { climbElevationM }), pace)?.predictedMin.p50 ?? 0;
    expect(at(3500)).toBeGreaterThan(1.05 * at(0));
    expect(at(null)).toBe(at(0));
  });
});

describe('the interval of a share', () => {
  // Newcombe 1998, Stat. Med. 17:857–872, table I, method 3 (values from memory)
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('of %i in %i is as published', (inside, n, low, high) => {
    const band = wilson(inside, n);
    expect(band.value).toBe(inside / n);
    expect(Math.abs(band.low - low)).toBeLessThan(6e-5);
    expect(Math.abs(band.high - high)).toBeLessThan(6e-5);
  });

  it('holds the share, stays within 0 to 1 and mirrors', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.double({ min: 0, max: 1, noNaN: true }), (n, part) => {
        const inside = Math.round(part * n);
        const { value, low, high } = wilson(inside, n);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(value + 1e-12);
        expect(high).toBeGreaterThanOrEqual(value - 1e-12);
        expect(wilson(n - inside, n).low).toBeCloseTo(1 - high, 12);
      }),
    );
  });

  it('is not asked of no day', () => {
    expect(() => wilson(0, 0)).toThrow(RangeError);
  });
});
