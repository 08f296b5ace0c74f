/**
 * Ranking a large context: npm run bench:rank (-- --json). The demo's routes are stretched and restated at random into a
 * made-up context of 10,000 (1,000 and 100,000 for the growth), read back from JSON as the store keeps them. The
 * reference is a bare pass over the same table: every number read, and the weighted logarithms of twelve columns summed.
 */
import { DESIGN } from '../src/design.ts';
import { factsOf } from '../src/rank/facts.ts';
import { orderRoutes } from '../src/rank/fit.ts';
import { type RankTable, tableOf } from '../src/rank/rank-table.ts';
import { rankFacts } from '../src/rank/ranking.ts';
import { type CohortRecord, readinessOf } from '../src/rank/readiness.ts';
import { ROW_COLUMNS, type RouteRow, rowOf } from '../src/rank/route-row.ts';
import { rankCertainty } from '../src/sampling/certainty.ts';
import { demoWorld } from '../test/support/demo-world.ts';
import { type BenchRow, mediansMs, report } from './bench/report.ts';
import { sized } from './bench/size.ts';
import { randomStream } from './demo-range/random.ts';

const DATE = '2026-07-11';
const ROUNDS = sized(31, 1);
const MANY = sized(10_000, 500);

const world = await demoWorld();
const demoRows = world.routes.map((route) => JSON.stringify(rowOf(route, DESIGN)));

/** Numbers that grow with the size of a route. */
const SIZED = /^(distanceM|gain(Low|High)?M|upKm|upM|downKm|downM|(exit|end)(DownKm|DownM|ClimbM))$/;

/** A context of so many routes, every one its own. */
function libraryOf(size: number): RankTable {
  const { uniform: random } = randomStream(1, `context of ${size}`);
  const rows = Array.from({ length: size }, (_, i): RouteRow => {
    const row = JSON.parse(demoRows[i % demoRows.length] ?? '') as RouteRow;
    const factor = 0.5 + random();
    const [lonShift, latShift] = [random() - 0.5, random() - 0.5];
    const rockClass = Math.floor(1 + 3 * random());
    const numbers = row.numbers.map((value, c) => {
      const column = ROW_COLUMNS[c] ?? 'distanceM';
      if (value === null) return null;
      if (SIZED.test(column)) return value * factor;
      if (column === 'lonDeg') return value + lonShift;
      if (column === 'latDeg') return value + latShift;
      return column === 'rockClassOrder' ? 1000 * rockClass : value;
    });
    const climbs = row.climbs.map((value, k) => (k % 3 === 0 ? value : value * factor));
    return { ...row, name: `${row.name} ${i}`, numbers, climbs };
  });
  return tableOf(rows);
}

/** Reads every number of a table once and sums the logarithms of twelve columns: what no ranking can do without. */
function barePass({ columns, climbs, size }: RankTable): number {
  let sum = 0;
  const all = Object.values(columns);
  for (const column of all) for (let i = 0; i < size; i += 1) sum += column[i] ?? 0;
  for (let i = 0; i < climbs.length; i += 1) sum += climbs[i] ?? 0;
  const scores = new Float64Array(size);
  for (const column of all.slice(0, 12)) {
    for (let i = 0; i < size; i += 1) scores[i] = (scores[i] ?? 0) + Math.log(1 + Math.abs(column[i] ?? 1));
  }
  return sum + (scores[0] ?? 0);
}

const record = world.records.find(({ cohort }) => cohort.ageBand === 'adult') as CohortRecord;
const request = { record, date: DATE, design: DESIGN };
const readiness = readinessOf(request);
const rankOf = (table: RankTable) => rankFacts(factsOf(table, request, readiness));
const surely = (of: RankTable) => {
  const facts = factsOf(of, request, readiness);
  return rankCertainty(facts, rankFacts(facts));
};
const rows: BenchRow[] = [];

const table = libraryOf(MANY);
const bare = 'a bare pass over the same typed columns';
const [orderMs = 0, bareMs = 0] = mediansMs(
  ROUNDS,
  () => rankOf(table),
  () => barePass(table),
);
rows.push({
  case: `${MANY} routes, full criteria`,
  ours: orderMs,
  reference: bareMs,
  unit: 'ms',
  referenceIs: bare,
});

const cold = libraryOf(MANY);
const from = performance.now();
rankOf(cold);
const coldMs = performance.now() - from;
rows.push({
  case: 'the same, first time for a date and a meeting place (sun, straight lines, work)',
  ours: coldMs,
  reference: bareMs,
  unit: 'ms',
  referenceIs: bare,
});

const [sureMs = 0] = mediansMs(ROUNDS, () => surely(table));
rows.push({
  case: 'the same with 1,000 trials over the leading 200',
  ours: sureMs,
  reference: orderMs,
  unit: 'ms',
  referenceIs: 'the order alone',
});

const [small, large] = [libraryOf(sized(1000, 100)), libraryOf(sized(100_000, 1000))];
const [smallMs = 0, largeMs = 0] = mediansMs(
  ROUNDS,
  () => rankOf(small),
  () => rankOf(large),
);
rows.push({
  case: `${large.size} routes, a route`,
  ours: (1000 * largeMs) / large.size,
  reference: (1000 * smallMs) / small.size,
  unit: 'µs',
  referenceIs: `${small.size} routes, a route`,
});

const [wordsMs = 0, demoMs = 0] = mediansMs(
  3,
  () => orderInFull(),
  () => rankOf(tableOf(world.routes.map((route) => rowOf(route, DESIGN)))),
);
rows.push({
  case: `the demo's ${world.routes.length} routes, rows made anew`,
  ours: demoMs,
  reference: wordsMs,
  unit: 'ms',
  referenceIs: 'each of them judged in full, with its day',
});

report('rank', rows);

function orderInFull(): unknown {
  return orderRoutes(world.routes, request, readiness);
}
