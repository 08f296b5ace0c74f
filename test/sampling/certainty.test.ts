import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readCohortFile, readRouteFiles } from '../../src/app/files.ts';
import { routesOf } from '../../src/app/measure.ts';
import { cohortRecordOf } from '../../src/app/recordings.ts';
import type { PaceModel } from '../../src/capability/pace-model.ts';
import { probabilityWithin } from '../../src/capability/pace-model.ts';
import { chanceOf } from '../../src/capability/student-t.ts';
import { shortlistText } from '../../src/cli/shortlist-text.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { CRITERIA, CRITERION_NAMES } from '../../src/rank/criteria/index.ts';
import { type Facts, factsOf } from '../../src/rank/facts.ts';
import { type Fit, fitOf, orderRoutes, subjectOf } from '../../src/rank/fit.ts';
import { newOutcome } from '../../src/rank/outcome.ts';
import { tableOf } from '../../src/rank/rank-table.ts';
import { rankFacts } from '../../src/rank/ranking.ts';
import { type CohortRecord, type FitRequest, readinessOf } from '../../src/rank/readiness.ts';
import { rowOf } from '../../src/rank/route-row.ts';
import { AS_RANKED, type Shift } from '../../src/rank/shift.ts';
import { verdictRank } from '../../src/rank/verdict.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { certaintyOf, trialVerdict, tryOrder } from '../../src/sampling/certainty.ts';
import { acceptability, placesIn, swapShare } from '../../src/sampling/places.ts';
import { streamOf } from '../../src/sampling/random.ts';
import { rankRoutes } from '../../src/sampling/rank-routes.ts';
import type { Surface } from '../../src/terrain/surface.ts';
import { openSurface } from '../../src/terrain/tile-set.ts';
import { orderSentences, placedOf } from '../../src/text/order-words.ts';
import { shortlistView } from '../../src/views/shortlist-view.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';
import { topsis } from './reference/topsis.ts';

const stated = (rockClass: string | null) => ({ rockClass, treelineM: 1800, surface: 'trail' as const });
const ROUTES = [
  mountain({ name: 'Little Hill', lengthUpM: 2000, gainM: 300, attributes: stated('1') }),
  mountain({ name: 'Even Hill', attributes: stated('2') }),
  mountain({ name: 'Steep Hill', lengthUpM: 3500, gainM: 850, attributes: stated('2') }),
  mountain({ name: 'Flat Hill', lengthUpM: 5000, gainM: 500, attributes: stated('1') }),
  mountain({ name: 'Edge Hill', lengthUpM: 4600, gainM: 930, attributes: stated('2') }),
  mountain({ name: 'Long Hill', lengthUpM: 7000, gainM: 1000, attributes: stated('2') }),
  mountain({ name: 'Rock Hill', attributes: stated('3') }),
  mountain({ name: 'Bare Hill', attributes: stated(null) }),
];
const RECORD: CohortRecord = { cohort: COHORT, outings: [shownDay(9000, 900)] };
const READY = readinessOf({ record: RECORD, date: TRIP, design: DESIGN });
const ranked = (routes = ROUTES, record = RECORD, design = DESIGN) =>
  rankRoutes(routes, { record, date: TRIP, design });

/** Every criterion's answer for the one route of some facts, as a trial shifts them. */
function answersIn(facts: Facts, shift: Partial<Shift> = {}) {
  const out = newOutcome();
  const answers = CRITERIA.map(({ over }) => {
    over(facts)(0, { ...AS_RANKED, ...shift }, out);
    return { rank: out.rank, value: out.value };
  });
  return { rank: Math.max(...answers.map(({ rank }) => rank)), values: answers.map(({ value }) => value) };
}

const REQUEST: FitRequest = { record: RECORD, date: TRIP, design: DESIGN };
const factsFor = (route: Route, request = REQUEST, readiness = readinessOf(request)) =>
  subjectOf(route, request, readiness).facts;

/** What a route comes to in a trial: the rank of its verdict and each criterion's value. */
function tried({ route, verdict }: Fit, shift: Partial<Shift>, request = REQUEST, readiness = READY) {
  const { rank, values } = answersIn(factsFor(route, request, readiness), shift);
  return { rank: trialVerdict(verdictRank(verdict), rank), values };
}

const alone = (route: Route, record = RECORD) => fitOf(route, { record, date: TRIP, design: DESIGN });

/** A pace whose every time is longer by one factor, its doubt too. */
const slowed = (pace: PaceModel, factor: number): PaceModel => ({
  ...pace,
  rock: { ...pace.rock, minPerM: pace.rock.minPerM * factor },
  posterior: {
    ...pace.posterior,
    mean: pace.posterior.mean.map((rate) => rate * factor),
    covariance: pace.posterior.covariance.map((row) => row.map((value) => value * factor ** 2)),
  },
});

describe('a route in a trial', () => {
  it('is as ranked where the trial changes nothing', () => {
    for (const start of [null, '06:30']) {
      const record = { ...RECORD, start };
      for (const route of ROUTES) {
        const fit = alone(route, record);
        const { rank, values } = tried(fit, {}, { ...REQUEST, record });
        expect([route.name, rank]).toEqual([route.name, verdictRank(fit.verdict)]);
        fit.judgements.forEach(({ value }, i) => {
          expect(values[i]).toBeCloseTo(value ?? 0.01, 9);
        });
      }
    }
  });

  it('changes the answers of those criteria alone that say so', () => {
    const factor = fc.double({ min: 0.5, max: 2, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom(...ROUTES),
        fc.record({ time: factor, shown: factor, gain: factor }),
        (route, shift) => {
          const facts = factsFor(route, REQUEST, READY);
          const [ranked, shifted] = [answersIn(facts).values, answersIn(facts, shift).values];
          CRITERIA.forEach(({ isShifted }, c) => {
            if (!isShifted) expect(shifted[c]).toBe(ranked[c]);
          });
        },
      ),
      { numRuns: 100, seed: 7 },
    );
  });

  it('is judged as for a group that has shown so much more or less', () => {
    for (const shown of [0.7, 0.9, 0.97, 1.1, 1.4]) {
      const times = <T extends { readonly value: number } | null>(one: T): T =>
        one === null ? one : { ...one, value: one.value * shown };
      const had = READY.shown;
      const readiness = {
        ...READY,
        shown: {
          ...had,
          distanceM: times(had.distanceM),
          gainM: times(had.gainM),
          climbs: had.climbs.map((own) => own.map((climb) => ({ ...climb, kept: climb.kept * shown }))),
          effortKj: times(had.effortKj),
        },
      };
      for (const route of ROUTES) {
        const expected = answersIn(factsFor(route, REQUEST, readiness));
        const found = answersIn(factsFor(route, REQUEST, READY), { shown });
        found.values.forEach((value, i) => {
          expect(value).toBeCloseTo(expected.values[i] ?? Number.NaN, 6);
        });
        expect(found.rank).toBe(expected.rank);
      }
    }
  });

  it('is judged as for a group whose times are so much longer or shorter', () => {
    // No meal, which a slow group does not eat more slowly.
    const request = { ...REQUEST, design: withChanges({ day: { mealMin: 0 } }) };
    for (const time of [0.7, 0.9, 1.15, 1.4, 2]) {
      for (const route of ROUTES) {
        const slow = { ...READY, pace: slowed(READY.pace, time) };
        const expected = answersIn(factsFor(route, request, slow));
        const found = answersIn(factsFor(route, request, READY), { time });
        found.values.forEach((value, i) => {
          // Minutes of the start are rounded, on both sides alike up to one step.
          const isNear = Math.abs(value - (expected.values[i] ?? Number.NaN)) < 0.02;
          expect(`${route.name} ${CRITERION_NAMES[i]} ${isNear}`).toBe(
            `${route.name} ${CRITERION_NAMES[i]} true`,
          );
        });
        expect(found.rank).toBe(expected.rank);
      }
    }
  });

  it('is never judged worse for more shown, shorter times or less gain', () => {
    const factor = fc.double({ min: 0.5, max: 2, noNaN: true });
    const fits = ROUTES.map((route) => alone(route));
    fc.assert(
      fc.property(
        fc.constantFrom(...fits),
        fc.record({ time: factor, shown: factor, gain: factor }),
        fc.double({ min: 1, max: 1.5, noNaN: true }),
        (fit, shift, better) => {
          const { rank } = tried(fit, shift);
          expect(tried(fit, { ...shift, shown: shift.shown * better }).rank).toBeLessThanOrEqual(rank);
          expect(tried(fit, { ...shift, time: shift.time / better }).rank).toBeLessThanOrEqual(rank);
          expect(tried(fit, { ...shift, gain: shift.gain / better }).rank).toBeLessThanOrEqual(rank);
        },
      ),
      { numRuns: 300, seed: 3 },
    );
  });

  it('is never judged worse when the group has shown more, the pace aside', () => {
    const unclocked = (distanceM: number, gainM: number): CohortRecord => ({
      cohort: COHORT,
      outings: [shownDay(distanceM, gainM, { parts: [], movingMin: null })],
    });
    const part = fc.double({ min: 1, max: 1.6, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom(...ROUTES),
        fc.record({
          km: fc.double({ min: 4, max: 16, noNaN: true }),
          m: fc.double({ min: 200, max: 1200, noNaN: true }),
        }),
        part,
        part,
        (route, { km, m }, further, higher) => {
          const before = alone(route, unclocked(1000 * km, m));
          const after = alone(route, unclocked(1000 * km * further, m * higher));
          expect(verdictRank(after.verdict)).toBeLessThanOrEqual(verdictRank(before.verdict));
        },
      ),
      { numRuns: 60, seed: 5 },
    );
  });

  it('stays ruled out or incomplete, however well the trial goes', () => {
    for (const fit of ranked().filter(({ verdict }) => ['ruledOut', 'incomplete'].includes(verdict))) {
      expect(tried(fit, { time: 0.3, shown: 5, gain: 0.5 }).rank).toBe(verdictRank(fit.verdict));
    }
  });

  it('has chances within 1e-10 of the distribution, far out too', () => {
    for (const degreesOfFreedom of [3, 8, 30]) {
      const chance = chanceOf(degreesOfFreedom);
      for (let deviate = -12; deviate < 12; deviate += 0.137) {
        const exact = probabilityWithin({ meanMin: 0, scaleMin: 1, degreesOfFreedom }, deviate);
        expect(Math.abs(chance(deviate) - exact)).toBeLessThan(1e-10);
      }
    }
  });
});

describe('the places in trials', () => {
  const value = fc.double({ min: 0.01, max: 1, noNaN: true });

  it('never put a route ahead of one that is better on one criterion and no worse on any', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(value, value), { minLength: 3, maxLength: 12 }),
        fc.integer({ min: 0, max: 2 }),
        (pairs, which) => {
          const better = pairs.map(([a, b]) => Math.max(a, b));
          const worse = pairs.map(([a, b], j) => Math.min(a, b) * (j === which ? 0.9 : 1));
          const { normal } = streamOf(1, 'law');
          const scores = new Float64Array(2 * 200);
          for (let draw = 0; draw < 200; draw += 1) {
            pairs.forEach((_pair, j) => {
              const weight = Math.exp(normal());
              scores[draw] = (scores[draw] ?? 0) + weight * Math.log(worse[j] ?? 1);
              scores[200 + draw] = (scores[200 + draw] ?? 0) + weight * Math.log(better[j] ?? 1);
            });
          }
          const ranks = placesIn(2, 200, new Uint8Array(2 * 200), scores);
          expect(swapShare(ranks, 1, 0)).toBe(0);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('buy no verdict back with a score', () => {
    const ranks = placesIn(
      2,
      3,
      Uint8Array.of(1, 1, 1, 0, 0, 0),
      Float64Array.of(100, 100, 100, -100, -100, -100),
    );
    expect([...ranks.places]).toEqual([2, 2, 2, 1, 1, 1]);
  });

  it('keep the order given where all is equal', () => {
    expect([...placesIn(3, 2, new Uint8Array(6), new Float64Array(6)).places]).toEqual([1, 1, 2, 2, 3, 3]);
  });

  it('leave one trial in twenty out at either end', () => {
    // 100 draws, and the first alternative is last of three in 5 of them, second in 5 more.
    const at = (last: number) => {
      const scores = new Float64Array(3 * 100);
      for (let draw = 0; draw < 100; draw += 1) {
        const own = draw < last ? [0, 2, 1] : draw < 10 ? [2, 3, 1] : [3, 2, 1];
        own.forEach((score, which) => {
          scores[which * 100 + draw] = score;
        });
      }
      return acceptability(placesIn(3, 100, new Uint8Array(3 * 100), scores), 0);
    };
    expect(at(5)).toEqual({ firstShare: 0.9, rankLow: 1, rankHigh: 2 });
    expect(at(6)).toEqual({ firstShare: 0.9, rankLow: 1, rankHigh: 3 });
  });
});

describe('how sure an order is', () => {
  const list = ranked();

  it('gives shares of first places that sum to one, and places around each route’s own', () => {
    const sum = list.reduce((all, { certainty }) => all + (certainty.firstShare ?? 0), 0);
    expect(sum).toBeCloseTo(1, 9);
    for (const { rank, verdict, certainty } of list) {
      if (verdict === 'incomplete' || verdict === 'ruledOut') continue;
      expect(certainty.rankLow).toBeLessThanOrEqual(rank);
      expect(certainty.rankHigh).toBeGreaterThanOrEqual(rank);
    }
  });

  it('is the same for the same input to the last digit, whatever the order given', () => {
    expect(ranked()).toEqual(list);
    fc.assert(
      fc.property(fc.shuffledSubarray(ROUTES, { minLength: ROUTES.length }), (shuffled) => {
        expect(ranked(shuffled).map(({ certainty }) => certainty)).toEqual(
          list.map(({ certainty }) => certainty),
        );
      }),
      { numRuns: 5 },
    );
  });

  it('does not change for the others when a route that is ruled out is removed', () => {
    const rest = ranked(ROUTES.filter(({ name }) => name !== 'Rock Hill'));
    const shares = (of: typeof list) => of.map(({ certainty }) => certainty.firstShare);
    expect(shares(rest)).toEqual(shares(list.slice(0, -1)));
  });

  it('has no place to be sure of for what is incomplete or ruled out, and is as sure of the rest as if that were tried', () => {
    const facts = factsOf(tableOf(ROUTES.map((route) => rowOf(route, DESIGN))), REQUEST, READY);
    const { order: ranked, verdicts: ranks } = rankFacts(facts);
    const all = certaintyOf(tryOrder(facts, ranked, ranks));
    const behind = { firstShare: null, rankLow: null, rankHigh: null };
    const verdicts = new Set(list.map(({ verdict }) => verdict));
    expect(verdicts).toContain('incomplete');
    expect(verdicts).toContain('ruledOut');
    list.forEach(({ verdict, certainty: { order, ...place } }, i) => {
      const isBehind = verdict === 'incomplete' || verdict === 'ruledOut';
      expect({ ...place, order }).toEqual({ ...(isBehind ? behind : all.at(i + 1)), order: all.order });
    });
  });

  it('is certain of a list of one, and is silent where nothing can be chosen', () => {
    const [only] = ranked(ROUTES.slice(0, 1));
    expect(only?.certainty).toMatchObject({ firstShare: 1, rankLow: 1, rankHigh: 1 });
    const [bare] = ranked(ROUTES.filter(({ name }) => name === 'Bare Hill' || name === 'Rock Hill'));
    expect(bare?.certainty.order).toMatchObject({ clearWinner: null, level: [] });
    expect(ranked([])).toEqual([]);
  });

  it('calls twins level, and nothing level across verdicts', () => {
    const twins = ['Alpha Hill', 'Beta Hill', 'Gamma Hill'].map((name, i) =>
      mountain({ name, gainM: 700 + i, lengthUpM: 4000 - i, attributes: stated('2') }),
    );
    const mixed = ranked([...ROUTES, ...twins]);
    const { level } = mixed[0]?.certainty.order ?? { level: [] };
    const places = twins.map(({ name }) => mixed.find(({ route }) => route.name === name)?.rank ?? 0);
    const group = level.find(({ from, to }) => places.every((place) => place >= from && place <= to));
    expect(group).toBeDefined();
    for (const { from, to } of level) {
      expect(new Set(mixed.slice(from - 1, to).map(({ verdict }) => verdict)).size).toBe(1);
    }
  });

  it('tries the leading routes alone and says null for the others', () => {
    const design = withChanges({ acceptability: { leading: 3 } });
    const cut = ranked(ROUTES, RECORD, design);
    expect(cut.map(({ certainty }) => certainty.firstShare === null)).toEqual(
      cut.map(({ rank }) => rank > 3),
    );
    const { routes } = shortlistView({ ...REQUEST, design }, cut, 'metric');
    expect(routes[5]).toMatchObject({ firstShare: null, rankLow: null, rankHigh: null });
  });

  it('is not asked of a route judged alone', () => {
    const [route] = ROUTES;
    if (route === undefined) throw new RangeError('no route');
    const view = shortlistView(REQUEST, [alone(route)], 'metric');
    expect(view.order).toBeNull();
    expect(view.routes[0]).toMatchObject({ firstShare: null, rankLow: null, rankHigh: null });
  });

  it('is surer with weights and abilities that are surer', () => {
    const design = withChanges({ acceptability: { weightSpread: 0, shownSpread: 0 } });
    const width = (of: typeof list) =>
      of.reduce((sum, { certainty }) => sum + (certainty.rankHigh ?? 0) - (certainty.rankLow ?? 0), 0);
    expect(width(ranked(ROUTES, RECORD, design))).toBeLessThan(width(list));
  });
});

describe('on the demo', () => {
  const DATES = ['2026-07-11', '2026-08-15'];
  const COHORTS = ['marram-seniors', 'cranny-juniors', 'plover-adults'];
  const CASES = COHORTS.flatMap((cohort) => DATES.map((date) => [cohort, date] as const));
  let surface: Surface;
  let routes: Route[];
  const records = new Map<string, CohortRecord>();
  beforeAll(async () => {
    surface = await openSurface(['data/demo/dem']);
    const ground = { surface, design: DESIGN };
    const files = await readRouteFiles(['data/demo/routes']);
    routes = (await Promise.all(files.map((file) => routesOf(file, ground)))).flat();
    for (const name of COHORTS) {
      const { cohort, readTrack } = await readCohortFile(`data/demo/cohorts/${name}.json`);
      records.set(name, await cohortRecordOf(cohort, readTrack, ground));
    }
  });
  afterAll(() => surface.close());

  const recordOf = (name: string): CohortRecord => {
    const record = records.get(name);
    if (record === undefined) throw new RangeError(name);
    return record;
  };

  it.each(CASES)('has every route as ranked where a trial changes nothing: %s on %s', (name, date) => {
    const request = { ...REQUEST, record: recordOf(name), date };
    const readiness = readinessOf(request);
    for (const fit of orderRoutes(routes, request, readiness)) {
      const { rank, values } = tried(fit, {}, request, readiness);
      expect(rank).toBe(verdictRank(fit.verdict));
      fit.judgements.forEach(({ value }, i) => {
        expect(values[i]).toBeCloseTo(value ?? 0.01, 9);
      });
    }
  });

  it.each(CASES)(
    'says “no clear winner” only where the first share is under one half: %s on %s',
    (name, date) => {
      const record = recordOf(name);
      const list = rankRoutes(routes, { record, date, design: DESIGN });
      const sum = list.reduce((all, { certainty }) => all + (certainty.firstShare ?? 0), 0);
      expect(sum).toBeCloseTo(1, 9);
      const text = shortlistText(list, { record, date, design: DESIGN }, 'metric');
      const share = list[0]?.certainty.firstShare ?? 0;
      expect(text.includes('no clear winner')).toBe(share < 0.5);
      expect(text.split('How sure the order is').length).toBe(2);
      const view = shortlistView({ record, date, design: DESIGN }, list, 'metric');
      expect(view.order?.clearWinner).toBe(share >= 0.5);
      expect(text.includes('Level')).toBe((view.order?.level.length ?? 0) > 0);
    },
  );

  it('says what the first has to spare where another that fits is oftener first, and only there', () => {
    const [tight, roomy] = [ROUTES[1], ROUTES[0]].map((route) => alone(route ?? mountain()));
    if (tight === undefined || roomy === undefined) throw new RangeError('two routes');
    const order = { trials: 1000, clearWinner: false, level: [] };
    const sentences = (first: number, next: number) => {
      const fits = [
        { ...tight, rank: 1, certainty: { firstShare: first, rankLow: 1, rankHigh: 2, order } },
        { ...roomy, rank: 2, certainty: { firstShare: next, rankLow: 1, rankHigh: 2, order } },
      ];
      return orderSentences(fits.map(placedOf), fits).join(' ');
    };
    expect(sentences(0.3, 0.7)).toMatch(
      /Even Hill leads .* climb \d+ % and storms .*, against distance \d+ % and no ground/,
    );
    expect(sentences(0.7, 0.3)).not.toContain('leads');
  });

  it('orders what fits much as TOPSIS does, which counts one large shortfall above several small ones', () => {
    // The named differences are those of src/rank/README.md. Rank correlation (Spearman 1904) of what fits, from these cohorts.
    const placeBoth: Record<string, readonly [ours: number, topsis: number]> = {};
    const correlations = COHORTS.map((name) => {
      const fits = rankRoutes(routes, { record: recordOf(name), date: TRIP, design: DESIGN }).filter(
        ({ verdict }) => verdict === 'fits',
      );
      const closeness = topsis(
        fits.map(({ judgements }) => judgements.map(({ value }) => value ?? 0)),
        CRITERION_NAMES.map((criterion) => DESIGN.weights[criterion]),
      );
      const places = closeness.map((own) => closeness.filter((other) => other > own).length);
      fits.forEach(({ route, rank }, i) => {
        placeBoth[`${name}: ${route.name}`] = [rank, (places[i] ?? 0) + 1];
      });
      const n = fits.length;
      const squares = places.reduce((all, place, i) => all + (place - i) ** 2, 0);
      return 1 - (6 * squares) / (n * (n * n - 1));
    });
    expect(correlations.map((correlation) => correlation.toFixed(2))).toEqual(['0.95', '1.00', '0.90']);
    expect(placeBoth).toMatchObject({
      'plover-adults: Oakum Dome': [6, 1],
      'marram-seniors: Two Knolls Round': [2, 1],
    });
  });
});
