import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { DESIGN } from '../../src/design.ts';
import { explainedFitOf, fitOf, subjectOf } from '../../src/rank/fit.ts';
import { fitsWith, isTrained, saneSteps } from '../../src/rank/least-outing.ts';
import { type CohortRecord, readinessOf } from '../../src/rank/readiness.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { helpsOf } from '../../src/text/fit-words.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const SEED = 20_260_711;
const judged = (route: Route, record: CohortRecord) =>
  explainedFitOf(route, { record, date: TRIP, design: DESIGN });
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
        expect(leaves.some(({ name }) => isTrained(name))).toBe(false);
        // With harder ground alone in the way, a shorter day on it would do.
        const needsSize = judged(route, withOuting(record, day(0.01))).judgements.some(
          ({ name, verdict }) => isTrained(name) && verdict !== 'fits',
        );
        if (needsSize) expect(isAllTrained(route, withOuting(record, day(0.99)))).toBe(false);
      }),
      { seed: SEED, numRuns: 80 },
    );
  });

  it('is looked for by the same rule as judging the route with the day in the record', () => {
    const amounts = fc.tuple(fc.integer({ min: 1000, max: 16_000 }), fc.integer({ min: 0, max: 1500 }));
    const walked = fc.record({ amounts, who: fc.subarray(['a', 'b', 'c'], { minLength: 1 }) });
    fc.assert(
      fc.property(fc.array(walked, { maxLength: 5 }), amounts, fc.boolean(), (days, more, isLabelled) => {
        const route = mountain({ lengthUpM: 4000, gainM: 600 });
        const members = isLabelled ? ['a', 'b', 'c'] : null;
        const day = ([distanceM, gainM]: readonly [number, number], date: string, of: string[] | null) =>
          handOuting({ date, distanceM, gainM, members: of });
        const record = {
          cohort: { ...COHORT, members },
          outings: days.map(({ amounts: of, who }, i) =>
            day(of, `2026-0${3 + i}-15`, isLabelled ? who : null),
          ),
        };
        const readiness = readinessOf({ record, date: TRIP, design: DESIGN });
        const input = subjectOf(route, { record, date: TRIP, design: DESIGN }, readiness);
        const added = day(more, TRIP, members);
        const after = withOuting(record, added);
        const { judgements } = fitOf(route, { record: after, date: TRIP, design: DESIGN });
        const isMet = judgements.every(
          ({ name, verdict }) => !['distance', 'gain', 'effort'].includes(name) || verdict === 'fits',
        );
        expect(fitsWith(input)(added)).toBe(isMet);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it('leaves what judging the route again with it in the record leaves', () => {
    for (const [distanceM, gainM] of [
      [8000, 700],
      [5000, 300],
      [12_000, 150],
    ] as const) {
      const route = mountain({ baseM: 1200, gainM: 900, attributes: { rockClass: '2', treelineM: 1300 } });
      const record = {
        cohort: { ...COHORT, earliestStart: '07:00' },
        outings: [shownDay(distanceM, gainM)],
      };
      const { leastOuting } = judged(route, record);
      expect(leastOuting).not.toBeNull();
      const { distanceM: lengthM = 0, gainM: climbM = 0, rockClass = null } = leastOuting ?? {};
      const day = handOuting({ date: TRIP, distanceM: lengthM, gainM: climbM, rockClass });
      const again = judged(route, withOuting(record, day)).judgements;
      expect(leastOuting?.leaves).toEqual(
        again.filter(({ verdict }) => verdict !== 'fits').map(({ name, verdict }) => ({ name, verdict })),
      );
    }
  });

  it('is told as steps, each within a sane growth of the one before, the last the outing itself', () => {
    const metres = fc.integer({ min: 500, max: 20_000 });
    fc.assert(
      fc.property(metres, metres, metres, metres, (fromM, fromGainM, distanceM, gainM) => {
        const target = { distanceM, gainM };
        const steps = saneSteps({ distanceM: fromM, gainM: fromGainM }, target, 0.1, 0.957);
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
    expect(fit.leastOuting?.leaves.map(({ name }) => name)).toContain('stormWindow');
    expect(helpsOf(fit, 'metric')[0]).toContain('that leaves storms');
    expect(judged(mountain(), { cohort: COHORT, outings: [shownDay(14_000, 1300)] }).leastOuting).toBeNull();
    const ruledOut = mountain({ attributes: { rockClass: '4', treelineM: 1800 } });
    expect(judged(ruledOut, { cohort: COHORT, outings: [shownDay(5000, 300)] }).leastOuting).toBeNull();
  });
});
