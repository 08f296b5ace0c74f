import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN, withChanges } from '../../src/design.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import { CRITERION_NAMES } from '../../src/rank/criteria/index.ts';
import { factsOf } from '../../src/rank/facts.ts';
import { fitOf } from '../../src/rank/fit.ts';
import { tableOf } from '../../src/rank/rank-table.ts';
import { rankFacts } from '../../src/rank/ranking.ts';
import { type CohortRecord, readinessOf } from '../../src/rank/readiness.ts';
import { type RouteRow, rowOf } from '../../src/rank/route-row.ts';
import { VERDICTS } from '../../src/rank/verdict.ts';
import { whatMoved } from '../../src/rank/what-moved.ts';
import { rankCertainty } from '../../src/sampling/certainty.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const SEED = 20_260_711;
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
const rockClass = fc.constantFrom('1', '1+', '2', '2+', '3', '3s4', '5.8', '5.10a', '5.10b');
const clearance = fc.constantFrom('any' as const, 'high' as const, 'fourWheel' as const);

const attributes: fc.Arbitrary<RouteAttributes> = fc.record({
  rockClass: maybe(rockClass),
  surface: maybe(fc.constantFrom('trail' as const, 'rough' as const, 'talus' as const)),
  treelineM: maybe(fc.constantFrom(1400, 1800, 2600)),
  groupSizeLimit: maybe(fc.integer({ min: 4, max: 20 })),
  season: maybe(fc.constantFrom({ from: '06-01', to: '10-15' }, { from: '11-01', to: '04-30' })),
  closures: fc.constantFrom(
    [],
    [{ from: '07-01', to: '07-31' }],
    [{ from: '2026-07-01', to: '2026-07-10' }],
    [{ from: '2026-07-01', to: '07-05' }],
  ),
  trailhead: maybe(
    fc.record({
      roadClearance: maybe(clearance),
      roadKm: maybe(fc.integer({ min: 0, max: 120 })),
      roadMin: maybe(fc.integer({ min: 0, max: 120 })),
      roadStatus: maybe(fc.constantFrom('open', 'closed by a slide', 'muddy')),
    }),
  ),
});

const route = fc
  .record({
    lengthUpM: fc.integer({ min: 1500, max: 7000 }),
    gainM: fc.integer({ min: 150, max: 1300 }),
    baseM: fc.constantFrom(700, 1200, 1900, 2900),
    attributes,
    name: fc.constantFrom('Ash Hill', 'Birch Hill', 'Cairn Hill', 'Dun Hill'),
  })
  .map(mountain);

const cohort: fc.Arbitrary<Partial<CohortInput>> = fc.record({
  ageBand: maybe(fc.constantFrom('8-11' as const, '15-17' as const, 'adult' as const)),
  participants: fc.integer({ min: 2, max: 16 }),
  leaders: maybe(fc.integer({ min: 0, max: 4 })),
  home: maybe(fc.constantFrom({ lat: 46.1, lon: -30.2 }, { lat: 46.5, lon: -30.9 })),
  driveLimit: maybe(
    fc.record({ km: maybe(fc.integer({ min: 0, max: 150 })), minutes: maybe(fc.constant(45)) }),
  ),
  vehicles: maybe(
    fc.array(fc.record({ seats: fc.integer({ min: 2, max: 9 }), clearance }), { maxLength: 3 }),
  ),
  comfortClass: maybe(rockClass),
  sleepElevationM: maybe(fc.constantFrom(0, 900, 2900, 3600)),
  nightsM: maybe(fc.constantFrom([0, 1200], [3000, 3600])),
  altitudeHistory: maybe(fc.constantFrom('none' as const, 'severe' as const, 'hapeHace' as const)),
  earliestStart: maybe(fc.constantFrom('03:00', '06:30', '09:00')),
  deadline: maybe(fc.constantFrom('10:00', '13:00')),
  headlamps: maybe(fc.boolean()),
  aim: maybe(fc.constantFrom('comfort' as const, 'challenge' as const)),
});

const outings = fc.array(
  fc
    .tuple(
      fc.integer({ min: 3000, max: 15_000 }),
      fc.integer({ min: 100, max: 1300 }),
      fc.constantFrom('2026-06-01', '2026-07-04', TRIP),
      fc.constantFrom('1', '2', '3'),
    )
    .map(([distanceM, gainM, date, of]) => shownDay(distanceM, gainM, { date, rockClass: of })),
  { maxLength: 3 },
);

const record: fc.Arbitrary<CohortRecord> = fc
  .tuple(cohort, outings, maybe(fc.constantFrom('05:10', '08:00')))
  .map(([changes, walked, start]) => ({ cohort: { ...COHORT, ...changes }, outings: walked, start }));
const date = fc.constantFrom(TRIP, '2026-12-21', '2026-03-29');

const rowsOf = (routes: readonly ReturnType<typeof mountain>[]): RouteRow[] =>
  routes.map((one) => JSON.parse(JSON.stringify(rowOf(one, DESIGN))) as RouteRow);
const ranked = (rows: readonly RouteRow[], of: CohortRecord, on: string, design = DESIGN) => {
  const table = tableOf(rows);
  const request = { record: of, date: on, design };
  const facts = factsOf(table, request);
  const ranking = rankFacts(facts);
  return { table, ...ranking, certainty: rankCertainty(facts, ranking) };
};
const QUICK = withChanges({ acceptability: { draws: 100 } });

describe('ranking', () => {
  it('gives for a table what it gives for each route alone, whatever is stated and whatever is not', () => {
    fc.assert(
      fc.property(fc.array(route, { minLength: 1, maxLength: 4 }), record, date, (routes, of, on) => {
        const request = { record: of, date: on, design: DESIGN };
        const readiness = readinessOf(request);
        const judged = rankFacts(factsOf(tableOf(rowsOf(routes)), request, readiness));
        routes.forEach((one, i) => {
          const fit = fitOf(one, request, readiness);
          expect(judged.scores[i]).toBeCloseTo(fit.score, 8);
          expect(VERDICTS[judged.verdicts[i] ?? 0]).toBe(fit.verdict);
          fit.judgements.forEach(({ name, verdict, value }, c) => {
            const at = c * routes.length + i;
            expect([name, VERDICTS[judged.ranks[at] ?? 0]]).toEqual([name, verdict]);
            expect(judged.values[at]).toBeCloseTo(value ?? 0.01, 8);
          });
        });
      }),
      { seed: SEED, numRuns: 150 },
    );
  });

  it('does not depend on the order of its rows, and gives the same to the last digit again', () => {
    fc.assert(
      fc.property(fc.array(route, { minLength: 2, maxLength: 5 }), record, (routes, of) => {
        const rows = rowsOf(routes);
        const one = ranked(rows, of, TRIP, QUICK);
        const other = ranked([...rows].reverse(), of, TRIP, QUICK);
        const told = (list: typeof one) =>
          Array.from(list.order, (i, place) => {
            const { firstShare, rankLow, rankHigh } = list.certainty.at(place + 1);
            return [list.table.names[i], list.scores[i], firstShare, rankLow, rankHigh];
          });
        expect(told(other)).toEqual(told(one));
        expect(told(ranked(rows, of, TRIP, QUICK))).toEqual(told(one));
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('keeps the order of the others when one is removed: a weighted geometric mean has no rank reversal', () => {
    fc.assert(
      fc.property(fc.array(route, { minLength: 3, maxLength: 5 }), record, fc.nat(2), (routes, of, out) => {
        const rows = rowsOf(routes).map((row, i) => ({ ...row, name: `${row.name} ${i}` }));
        const all = ranked(rows, of, TRIP, QUICK);
        const removed = rows[out]?.name;
        const rest = ranked(
          rows.filter(({ name }) => name !== removed),
          of,
          TRIP,
          QUICK,
        );
        const names = (list: typeof all) => Array.from(list.order, (i) => list.table.names[i]);
        expect(names(rest)).toEqual(names(all).filter((name) => name !== removed));
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('never ranks a route below one that is no better on any criterion and worse on one', () => {
    fc.assert(
      fc.property(fc.array(route, { minLength: 2, maxLength: 6 }), record, date, (routes, of, on) => {
        const { order, ranks, values, table } = ranked(rowsOf(routes), of, on, QUICK);
        const at = (c: number, i: number) => c * table.size + i;
        const isNoWorse = (a: number, b: number) =>
          CRITERION_NAMES.every(
            (_, c) =>
              (ranks[at(c, a)] ?? 0) <= (ranks[at(c, b)] ?? 0) &&
              (values[at(c, a)] ?? 0) >= (values[at(c, b)] ?? 0),
          );
        const isBetter = (a: number, b: number) =>
          isNoWorse(a, b) &&
          CRITERION_NAMES.some((_, c) => (values[at(c, a)] ?? 0) > (values[at(c, b)] ?? 0) + 1e-9);
        order.forEach((behind, place) => {
          for (const ahead of order.subarray(0, place)) expect(isBetter(behind, ahead)).toBe(false);
        });
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it('lets nothing buy a veto back: whatever the weights, what is ruled out stands behind what can be chosen', () => {
    const weights = fc.record(
      Object.fromEntries(CRITERION_NAMES.map((name) => [name, fc.constantFrom(0, 0.1, 1, 1000)])),
    );
    fc.assert(
      fc.property(fc.array(route, { minLength: 2, maxLength: 6 }), record, weights, (routes, of, changed) => {
        fc.pre(Object.values(changed).some((weight) => weight > 0));
        const design = withChanges({ weights: changed }, QUICK);
        const { order, verdicts, ranks, table } = ranked(rowsOf(routes), of, TRIP, design);
        let worst = 0;
        for (const i of order) {
          const own = Math.max(...CRITERION_NAMES.map((_, c) => ranks[c * table.size + i] ?? 0));
          expect(verdicts[i]).toBe(own);
          expect(own).toBeGreaterThanOrEqual(worst);
          worst = own;
        }
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('never lowers a verdict on distance, climb or work when more was shown', () => {
    fc.assert(
      fc.property(route, record, fc.double({ min: 1, max: 2, noNaN: true }), (one, of, more) => {
        const bigger = of.outings.map((outing) =>
          shownDay(outing.distanceM * more, (outing.gainM ?? 0) * more, {
            date: outing.date,
            rockClass: outing.rockClass,
          }),
        );
        const before = ranked(rowsOf([one]), of, TRIP, QUICK);
        const after = ranked(rowsOf([one]), { ...of, outings: bigger }, TRIP, QUICK);
        for (const c of [0, 1, 2]) expect(after.ranks[c]).toBeLessThanOrEqual(before.ranks[c] ?? 0);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it('breaks ties by name, and between routes of one name by what they are', () => {
    const one = rowsOf([mountain({ name: 'Same Hill' })])[0] as RouteRow;
    const rows = ['C', 'A', 'B'].map((name) => ({ ...one, name }));
    const { order, table } = ranked(rows, { cohort: COHORT, outings: [shownDay(9000, 900)] }, TRIP, QUICK);
    expect(Array.from(order, (i) => table.names[i])).toEqual(['A', 'B', 'C']);
  });
});

describe('what moved', () => {
  const rows = rowsOf([
    mountain({ name: 'Little Hill', lengthUpM: 2000, gainM: 300 }),
    mountain({ name: 'Long Hill', lengthUpM: 7000, gainM: 1000 }),
    mountain({ name: 'Rock Hill', attributes: { rockClass: '5.4', treelineM: 1800 } }),
  ]);
  const of: CohortRecord = { cohort: COHORT, outings: [shownDay(9000, 900)] };

  it('is nothing where nothing changed', () => {
    expect(whatMoved(ranked(rows, of, TRIP), ranked(rows, of, TRIP))).toEqual([]);
  });

  it('names the route whose verdict is another, with the criteria that did it', () => {
    const more = { ...of, outings: [...of.outings, shownDay(16_000, 1200)] };
    const moves = whatMoved(ranked(rows, of, TRIP), ranked(rows, more, TRIP));
    const move = moves.find(({ which }) => which === 1);
    expect([move?.from.verdict, move?.to.verdict]).toEqual(['notYet', 'fits']);
    expect(move?.criteria).toContainEqual({ name: 'distance', from: 'notYet', to: 'fits' });
  });

  it('does not speak of what stays ruled out, nor of a route that only makes room', () => {
    const moves = whatMoved(
      ranked(rows, of, TRIP),
      ranked(rows, { ...of, outings: [...of.outings, shownDay(16_000, 1200)] }, TRIP),
    );
    expect(moves.map(({ which }) => which)).not.toContain(2);
    for (const { from, to } of moves) {
      const isAnother = from.verdict !== to.verdict || Math.abs(from.score - to.score) >= 0.005;
      expect(isAnother).toBe(true);
    }
  });
});
