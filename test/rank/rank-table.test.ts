import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { CRITERION_NAMES } from '../../src/rank/criteria/index.ts';
import { factsOf } from '../../src/rank/facts.ts';
import { fitOf, orderRoutes } from '../../src/rank/fit.ts';
import { tableOf } from '../../src/rank/rank-table.ts';
import { rankFacts } from '../../src/rank/ranking.ts';
import { readinessOf } from '../../src/rank/readiness.ts';
import { rowOf } from '../../src/rank/route-row.ts';
import { scoreParts } from '../../src/rank/score.ts';
import { VERDICTS } from '../../src/rank/verdict.ts';
import { DEMO_DATES, demoWorld } from '../support/demo-world.ts';

const world = await demoWorld();

describe('the table of all routes', () => {
  const table = tableOf(world.routes.map((route) => JSON.parse(JSON.stringify(rowOf(route, DESIGN)))));

  for (const record of world.records) {
    for (const date of DEMO_DATES) {
      it(`judges and orders as each route alone, by the product of its parts: ${record.cohort.name}, ${date}`, () => {
        const request = { record, date, design: DESIGN };
        const readiness = readinessOf(request);
        const ranking = rankFacts(factsOf(table, request, readiness));
        const ordered = orderRoutes(world.routes, request, readiness).map(({ route }) => route.name);
        expect([...ranking.order].map((i) => table.names[i])).toEqual(ordered);
        world.routes.forEach((route, i) => {
          const fit = fitOf(route, request, readiness);
          const product = scoreParts(fit.judgements, DESIGN.weights).reduce(
            (all, { factor }) => all * factor,
            1,
          );
          expect(product).toBeCloseTo(fit.score, 9);
          expect(VERDICTS[ranking.verdicts[i] ?? 0]).toBe(fit.verdict);
          expect(ranking.scores[i]).toBeCloseTo(fit.score, 9);
          CRITERION_NAMES.forEach((name, c) => {
            const judgement = fit.judgements[c];
            const at = c * table.size + i;
            expect([name, VERDICTS[ranking.ranks[at] ?? 0]]).toEqual([judgement?.name, judgement?.verdict]);
            expect(ranking.values[at]).toBeCloseTo(judgement?.value ?? 0.01, 9);
          });
        });
      });
    }
  }

  it('takes over what was worked out for the same rows, and works out the others', () => {
    const rows = world.routes.map((route) => rowOf(route, DESIGN));
    const [first, ...rest] = rows;
    const [record] = world.records;
    if (first === undefined || record === undefined) throw new RangeError('the demo is empty');
    const changed = {
      ...first,
      numbers: first.numbers.map((value) => (value === null ? null : value * 1.1)),
    };
    const asked = (of: ReturnType<typeof tableOf>) =>
      DEMO_DATES.map((date) => {
        const { order, scores, values } = rankFacts(factsOf(of, { record, date, design: DESIGN }));
        return { order, scores, values, sun: of.sunOn(date) };
      });
    const before = tableOf(rows);
    asked(before);
    for (const now of [rows, [...rest].reverse(), [changed, ...rest], [...rest, changed, first]]) {
      expect(asked(tableOf(now, before))).toEqual(asked(tableOf(now)));
    }
  });
});
