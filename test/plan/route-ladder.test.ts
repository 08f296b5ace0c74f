import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { addDays, daysBetween } from '../../src/earth/local-time.ts';
import { routeLadder } from '../../src/plan/route-ladder.ts';
import { withOutings } from '../../src/plan/training/question.ts';
import { asWalked } from '../../src/plan/training/steps.ts';
import { fitOf } from '../../src/rank/fit.ts';
import type { CohortRecord } from '../../src/rank/readiness.ts';
import { verdictRank } from '../../src/rank/verdict.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { ladderSentence } from '../../src/text/training-words.ts';
import { COHORT, mountain, shownDay } from '../support/fit-input.ts';

const TODAY = '2026-06-01';
const TRIP = '2026-07-11';
const hill = (name: string, km: number, gainM: number, rockClass = '1'): Route =>
  mountain({
    name,
    lengthUpM: Math.round((km * 1000) / 2 / 20) * 20,
    baseM: 400,
    gainM,
    attributes: { rockClass, treelineM: 2500, surface: 'trail' },
  });
const record = (distanceM: number, gainM: number): CohortRecord => ({
  cohort: { ...COHORT, driveLimit: null },
  outings: [{ ...shownDay(distanceM, gainM, { rockClass: '1' }), date: TODAY }],
});
const ladderTo = (target: Route, routes: readonly Route[], from = record(8000, 500), tripDate = TRIP) =>
  routeLadder({ route: target, record: from, today: TODAY, tripDate, routes, design: DESIGN });

// Minors lose about 4 % in a week and may go 10 % beyond what is left: about 5 % a step is gained.
const target = hill('Target', 8.88, 530);
const first = hill('First', 8.08, 500);
const second = hill('Second', 8.48, 522);
const third = hill('Third', 8.88, 542);
const fourth = hill('Fourth', 9.32, 562);
const all = [first, second, third, fourth];

describe('a ladder of known routes', () => {
  it('is not needed where enough was shown', () => {
    const near = ladderTo(hill('Low', 6, 300), [first], record(8000, 500), '2026-06-10');
    expect(near.state).toBe('ready');
    expect(near.rungs).toEqual([]);
  });

  it('leads up in steps of which each fits or is a stretch on its day, until the target fits', () => {
    const from = record(8000, 500);
    const ladder = ladderTo(target, [...all, target], from);
    expect(ladder.state).toBe('ladder');
    expect(ladder.rungs.length).toBeGreaterThan(1);
    let walked = from;
    for (const rung of ladder.rungs) {
      const route = all.find(({ name }) => name === rung.name);
      if (route === undefined) throw new RangeError(rung.name);
      const fit = fitOf(route, { record: walked, date: rung.date, design: DESIGN });
      expect(verdictRank(fit.verdict)).toBeLessThanOrEqual(verdictRank('stretch'));
      walked = withOutings(walked, [asWalked(rung, walked)]);
    }
    const then = fitOf(target, { record: walked, date: TRIP, design: DESIGN });
    const trained = then.judgements.filter(({ name }) =>
      ['distance', 'gain', 'effort', 'rockClass'].includes(name),
    );
    expect(trained.map(({ verdict }) => verdict)).toEqual(['fits', 'fits', 'fits', 'fits']);
    expect(ladderSentence(ladder, 'metric')).toContain(`To Target in ${ladder.rungs.length} steps`);
  });

  it('keeps its days in order, with time between them and to recover, and never before today', () => {
    const { rungs } = ladderTo(target, all);
    const days = rungs.map(({ date }) => daysBetween(TODAY, date));
    expect(days[0]).toBeGreaterThanOrEqual(DESIGN.training.daysBetween);
    days.slice(1).forEach((day, i) => {
      const gap = day - (days[i] ?? 0);
      expect(gap).toBeGreaterThanOrEqual(DESIGN.training.daysBetween);
      expect(gap).toBeLessThanOrEqual(DESIGN.training.mostDaysBetween);
    });
    const left = daysBetween(addDays(TODAY, days.at(-1) ?? 0), TRIP);
    expect(left).toBeGreaterThanOrEqual(DESIGN.training.leastRecoveryDays);
    expect(left).toBeLessThanOrEqual(DESIGN.training.mostRecoveryDays);
  });

  it('does not depend on the order of the routes, and never has the target as a step to itself', () => {
    const one = ladderTo(target, [...all, target]);
    const other = ladderTo(target, [target, ...all].reverse());
    expect(other).toEqual(one);
    expect(one.rungs.map(({ name }) => name)).not.toContain('Target');
  });

  it('says plainly that no known route leads there, and what is missing', () => {
    const ladder = ladderTo(target, [first]);
    expect(ladder.state).toBe('none');
    expect(ladderSentence(ladder, 'metric')).toContain('No ladder leads to Target');
    expect(ladder.missing.map(({ name }) => name)).toContain('gain');
  });

  it('says that there is no time for a step, that the class is above comfort, that the date has gone by', () => {
    const far = ladderTo(hill('Far', 12, 900), [fourth], record(8000, 500), '2026-06-10');
    expect(far.tried).toEqual({ routes: 1, steps: 0 });
    expect(ladderSentence(far, 'metric')).toMatch(/^Not this season: it would take about \d+ training days/);
    expect(far.training?.nearer?.distanceM).toBeLessThan(12_000);
    const near = ladderTo(hill('Near', 9, 560), [fourth], record(8000, 500), '2026-06-10');
    expect(ladderSentence(near, 'metric')).toContain('there is no time for a step');
    const hard = ladderTo(hill('Hard', 9, 600, '4'), [first]);
    expect(hard.tried).toBeNull();
    expect(ladderSentence(hard, 'metric')).toContain('above the group’s comfort class');
    expect(ladderTo(target, [fourth], record(8000, 500), '2026-05-01').state).toBe('past');
  });

  it('is no longer than any that trying every sequence finds', () => {
    const size = fc.record({ km: fc.integer({ min: 14, max: 22 }), gain: fc.integer({ min: 8, max: 14 }) });
    fc.assert(
      fc.property(fc.array(size, { minLength: 1, maxLength: 4 }), size, (sizes, top) => {
        const routes = sizes.map(({ km, gain }, i) => hill(`R${i}`, km / 2, gain * 50));
        const goal = hill('Goal', top.km / 2, top.gain * 50);
        const from = record(8000, 500);
        const ladder = ladderTo(goal, routes, from, '2026-06-27');
        // Two steps fit in at most: on the 13th and the 20th, or on one of the days that a single step may take.
        const isTrained = (state: CohortRecord) =>
          fitOf(goal, { record: state, date: '2026-06-27', design: DESIGN }).judgements.every(
            ({ name, verdict }) =>
              !['distance', 'gain', 'effort', 'rockClass'].includes(name) || verdict === 'fits',
          );
        const steps = (state: CohortRecord, date: string) =>
          routes.flatMap((route) => {
            const fit = fitOf(route, { record: state, date, design: DESIGN });
            if (verdictRank(fit.verdict) > verdictRank('stretch')) return [];
            const { distanceM, gainM } = route.measures;
            return [
              withOutings(state, [
                asWalked({ date, distanceM, gainM: gainM?.value ?? 0, rockClass: '1' }, state),
              ]),
            ];
          });
        const none = isTrained(from);
        const one = steps(from, '2026-06-20').some(isTrained);
        const two = steps(from, '2026-06-13')
          .flatMap((state) => steps(state, '2026-06-20'))
          .some(isTrained);
        const shortest = none ? 0 : one ? 1 : two ? 2 : null;
        expect(ladder.state === 'none' ? null : ladder.rungs.length).toBe(shortest);
      }),
      { numRuns: 25 },
    );
  });
});
