import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { DESIGN } from '../../src/design.ts';
import { isTrained, saneSteps } from '../../src/fit/least-outing.ts';
import { type CohortRecord, explainedFitOf, readinessOf } from '../../src/fit/rank-routes.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const SEED = 20_260_711;
const judged = (route: Route, record: CohortRecord) =>
  explainedFitOf(route, record, readinessOf(record, TRIP, DESIGN), TRIP, DESIGN, 'metric');
const isAllTrained = (route: Route, record: CohortRecord): boolean =>
  judged(route, record).judgements.every(({ name, verdict }) => !isTrained(name) || verdict === 'fits');
const withOuting = (record: CohortRecord, outing: Outing): CohortRecord => ({
  ...record,
  outings: [...record.outings, outing],
});

describe('the least outing', () => {
  it('makes what training changes fit once it is added on the trip’s date, and 1 % less does not', () => {
    const shown = fc.tuple(fc.integer({ min: 3000, max: 12_000 }), fc.integer({ min: 150, max: 900 }));
    const hill = fc.record({
      lengthUpM: fc.integer({ min: 2500, max: 7000 }),
      gainM: fc.integer({ min: 300, max: 1200 }),
      attributes: fc.constantFrom(
        { rockClass: '1', treelineM: 3000 },
        { rockClass: '2+', treelineM: 1500, surface: 'rough' as const },
      ),
    });
    fc.assert(
      fc.property(shown, hill, ([distanceM, gainM], given) => {
        const route = mountain(given);
        const record = { cohort: { ...COHORT, comfortClass: '3' }, outings: [shownDay(distanceM, gainM)] };
        const { leastOuting } = judged(route, record);
        fc.pre(leastOuting !== null);
        const { rockClass, leaves } = leastOuting;
        const day = (share: number): Outing =>
          handOuting({
            date: TRIP,
            distanceM: share * leastOuting.distanceM,
            gainM: share * leastOuting.gainM,
            rockClass,
          });
        expect(isAllTrained(route, withOuting(record, day(1)))).toBe(true);
        expect(leaves.some(isTrained)).toBe(false);
        // With harder ground alone in the way, a shorter day on it would do.
        const needsSize = judged(route, withOuting(record, day(0.01))).judgements.some(
          ({ name, verdict }) => isTrained(name) && verdict !== 'fits',
        );
        if (needsSize) expect(isAllTrained(route, withOuting(record, day(0.99)))).toBe(false);
      }),
      { seed: SEED, numRuns: 80 },
    );
  });

  it('is told as steps, each within a sane growth of the one before, the last the outing itself', () => {
    const metres = fc.integer({ min: 500, max: 20_000 });
    fc.assert(
      fc.property(metres, metres, metres, metres, (fromM, fromGainM, distanceM, gainM) => {
        const target = { distanceM, gainM };
        const steps = saneSteps({ distanceM: fromM, gainM: fromGainM }, target, 0.1);
        expect(steps.at(-1)?.distanceM).toBeCloseTo(distanceM, 6);
        expect(steps.at(-1)?.gainM).toBeCloseTo(gainM, 6);
        let before = { distanceM: fromM, gainM: fromGainM };
        for (const step of steps) {
          expect(step.distanceM).toBeLessThanOrEqual(
            Math.max(target.distanceM, before.distanceM * 1.1 + 1e-6),
          );
          if (distanceM > fromM) expect(step.distanceM).toBeLessThanOrEqual(before.distanceM * 1.1 + 1e-6);
          if (gainM > fromGainM) expect(step.gainM).toBeLessThanOrEqual(before.gainM * 1.1 + 1e-6);
          before = step;
        }
      }),
      { seed: SEED },
    );
  });

  it('says what it leaves, and is none where no outing is in the way', () => {
    const high = mountain({ baseM: 1200, gainM: 900, attributes: { rockClass: '2', treelineM: 1300 } });
    const fit = judged(high, {
      cohort: { ...COHORT, earliestStart: '07:00' },
      outings: [shownDay(8000, 700)],
    });
    expect(fit.leastOuting?.leaves).toContain('stormWindow');
    expect(fit.leastOuting?.text).toContain('that leaves storms');
    expect(judged(mountain(), { cohort: COHORT, outings: [shownDay(14_000, 1300)] }).leastOuting).toBeNull();
    const ruledOut = mountain({ attributes: { rockClass: '4', treelineM: 1800 } });
    expect(judged(ruledOut, { cohort: COHORT, outings: [shownDay(5000, 300)] }).leastOuting).toBeNull();
  });
});
