import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { readinessOf } from '../../src/rank/readiness.ts';
import { verdictRank } from '../../src/rank/verdict.ts';
import { rankRoutes } from '../../src/sampling/rank-routes.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const stated = (rockClass: string | null) => ({ rockClass, treelineM: 1800, surface: 'trail' as const });
const ROUTES = [
  mountain({ name: 'Little Hill', lengthUpM: 2000, gainM: 300, attributes: stated('1') }),
  mountain({ name: 'Even Hill', attributes: stated('2') }),
  mountain({ name: 'Long Hill', lengthUpM: 7000, gainM: 1000, attributes: stated('2') }),
  mountain({ name: 'Rock Hill', attributes: stated('3') }),
  mountain({ name: 'Bare Hill', attributes: stated(null) }),
];
const record = { cohort: COHORT, outings: [shownDay(9000, 900)] };
const names = (routes: typeof ROUTES) =>
  rankRoutes(routes, { record, date: TRIP, design: DESIGN }).map((fit) => fit.route.name);

describe('rankRoutes', () => {
  const ranked = rankRoutes(ROUTES, { record, date: TRIP, design: DESIGN });

  it('puts what fits first, then stretch, not yet, incomplete and ruled out', () => {
    const order = ranked.map((fit) => verdictRank(fit.verdict));
    expect([...order].sort((a, b) => a - b)).toEqual(order);
    expect(new Set(ranked.map((fit) => fit.verdict))).toEqual(
      new Set(['fits', 'notYet', 'incomplete', 'ruledOut']),
    );
    expect(ranked.map((fit) => fit.rank)).toEqual([1, 2, 3, 4, 5]);
  });

  it('does not depend on the order given', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(ROUTES, { minLength: ROUTES.length }), (shuffled) => {
        expect(names(shuffled)).toEqual(names(ROUTES));
      }),
      { numRuns: 20 },
    );
  });

  it('keeps the order of the others when one is removed', () => {
    for (const gone of ROUTES) {
      const rest = ROUTES.filter((route) => route !== gone);
      expect(names(rest)).toEqual(names(ROUTES).filter((name) => name !== gone.name));
    }
  });

  it('breaks ties by name', () => {
    const twins = ['Zeta Hill', 'Alpha Hill'].map((name) => mountain({ name, attributes: stated('2') }));
    expect(names(twins)).toEqual(['Alpha Hill', 'Zeta Hill']);
  });

  it('gives a group that has shown more at least as many routes that fit', () => {
    const fitting = (distanceM: number, gainM: number) =>
      rankRoutes(ROUTES, {
        record: { cohort: COHORT, outings: [shownDay(distanceM, gainM)] },
        date: TRIP,
        design: DESIGN,
      }).filter((fit) => fit.verdict === 'fits').length;
    expect(fitting(16000, 1500)).toBeGreaterThan(fitting(7000, 700));
  });

  it('asks who was on the outings where no labels say so', () => {
    expect(ranked[0]?.questions).toContainEqual({ code: 'whoWasThereNotStated' });
  });

  describe('the pace', () => {
    const clockedDay = (members: string[], date = TRIP) => ({ ...shownDay(9000, 900), members, date });
    const slowDay = { ...shownDay(9000, 900, { parts: [] }), members: ['a', 'b'] };
    const pace = (outings: ReturnType<typeof shownDay>[], going: string[]) =>
      readinessOf({
        record: { cohort: { ...COHORT, members: ['a', 'b'], going }, outings },
        date: TRIP,
        design: DESIGN,
      });

    it('is not learned from days of those who stay at home', () => {
      const { pace: model } = pace([slowDay, clockedDay(['a'])], ['b']);
      expect(model.outings).toBe(0);
    });

    it('is not learned from days of years ago', () => {
      expect(pace([slowDay, clockedDay(['a', 'b'], '2021-06-01')], ['a', 'b']).pace.outings).toBe(0);
    });

    it('is no faster than the trade rule while somebody who goes has no clocked day', () => {
      const readiness = pace([slowDay, clockedDay(['a'])], ['a', 'b']);
      const prior = pace([slowDay], ['a', 'b']).pace;
      readiness.pace.posterior.mean.forEach((rate, i) => {
        expect(rate).toBeGreaterThanOrEqual(prior.posterior.mean[i] ?? 0);
      });
      expect(readiness.questions).toContainEqual({ code: 'someWithoutClock' });
    });
  });

  it('says that labels do not name everyone, and that outings lie after the trip', () => {
    const cohort = { ...COHORT, members: ['a'], going: ['a'] };
    const outings = [shownDay(9000, 900, { members: ['a'] }), shownDay(9000, 900, { date: '2027-01-01' })];
    const { questions } = readinessOf({ record: { cohort, outings }, date: TRIP, design: DESIGN });
    expect(questions).toContainEqual({ code: 'fewLabels', labelled: 1, participants: 8 });
    expect(questions).toContainEqual({ code: 'outingsAfter', count: 1 });
  });

  it('uses minors’ limits where the age band is not stated, and says so', () => {
    const [first] = rankRoutes(ROUTES, {
      record: { ...record, cohort: { ...COHORT, ageBand: null } },
      date: TRIP,
      design: DESIGN,
    });
    expect(first?.questions).toContainEqual({ code: 'ageBandNotStated' });
  });
});
