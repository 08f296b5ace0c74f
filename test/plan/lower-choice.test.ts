import { describe, expect, it } from 'vitest';
import { DESIGN } from '../../src/design.ts';
import { addDays } from '../../src/earth/local-time.ts';
import { lowerChoice, suggestedSpareDate } from '../../src/plan/trip-plan.ts';
import { fitOf } from '../../src/rank/fit.ts';
import { type CohortRecord, readinessOf } from '../../src/rank/readiness.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { rankRoutes } from '../../src/sampling/rank-routes.ts';
import { COHORT, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const record: CohortRecord = { cohort: COHORT, outings: [shownDay(9000, 900)] };
const request = { record, date: TRIP, design: DESIGN };
const readiness = readinessOf(request);
const CHOSEN = mountain({ name: 'Even Hill' }); // 1,200 m to 2,000 m
const LOW = mountain({ name: 'Low Hill', baseM: 1200, gainM: 500 });
const LOWER = mountain({ name: 'Little Hill', lengthUpM: 1500, baseM: 1200, gainM: 200 });
const fit = fitOf(CHOSEN, request, readiness);
const choice = (...known: Route[]) => lowerChoice(fit, known, request, readiness)?.name ?? null;

describe('lowerChoice', () => {
  it('is of the lower routes that fit the one with the best score, whatever their order', () => {
    const [best] = rankRoutes([LOW, LOWER], { record, date: TRIP, design: DESIGN });
    expect(best?.verdict).toBe('fits');
    expect(choice(CHOSEN, LOW, LOWER)).toBe(best?.route.name);
    expect(choice(LOWER, LOW, CHOSEN)).toBe(best?.route.name);
  });

  it('gives what a leader asks first: length, climb and verdict', () => {
    const found = lowerChoice(fit, [LOW], request, readiness);
    expect(found).toEqual({
      name: 'Low Hill',
      distanceM: LOW.measures.distanceM,
      gainM: LOW.measures.gainM?.value,
      verdict: 'fits',
    });
  });

  it('has a lower top and a smaller climb, not one of them', () => {
    const higher = mountain({ name: 'High Start', baseM: 1700, gainM: 400 });
    const deeper = mountain({ name: 'Deep Start', baseM: 1000, gainM: 850 });
    expect(higher.measures.highM).toBeGreaterThan(CHOSEN.measures.highM ?? 0);
    expect(choice(higher, deeper)).toBeNull();
  });

  it('is none of those that do not fit', () => {
    const rock = mountain({
      name: 'Rock Hill',
      gainM: 400,
      attributes: { rockClass: '4', treelineM: 1800, surface: 'trail' },
    });
    const bare = mountain({ name: 'Bare Hill', gainM: 400, attributes: { treelineM: 1800 } });
    expect(choice(rock, bare)).toBeNull();
    expect(choice(rock, bare, LOW)).toBe('Low Hill');
  });

  it('is never the route itself, and none where nothing is known', () => {
    expect(choice(CHOSEN)).toBeNull();
    expect(choice()).toBeNull();
  });

  it('compares nothing with heights that are not known', () => {
    const unmeasured: Route = { ...LOW, measures: { ...LOW.measures, highM: null, gainM: null } };
    expect(choice(unmeasured)).toBeNull();
    const unknown = { ...fit, route: { ...CHOSEN, measures: { ...CHOSEN.measures, highM: null } } };
    expect(lowerChoice(unknown, [LOW], request, readiness)).toBeNull();
  });

  it('breaks a tie by name', () => {
    const twins = ['Zeta Hill', 'Alpha Hill'].map((name) => mountain({ name, gainM: 500 }));
    expect(choice(...twins)).toBe('Alpha Hill');
    expect(choice(...[...twins].reverse())).toBe('Alpha Hill');
  });
});

describe('suggestedSpareDate', () => {
  const inSeason = (from: string, to: string): Route =>
    mountain({ attributes: { rockClass: '2', treelineM: 1800, surface: 'trail', season: { from, to } } });
  const spare = (route: Route, design = DESIGN) =>
    suggestedSpareDate(
      fitOf(route, { record, date: TRIP, design }, readiness),
      { ...request, design },
      (date) => readinessOf({ record, date, design }),
    );

  it('is a week later where the route fits the group as well then', () => {
    const strong: CohortRecord = { cohort: COHORT, outings: [shownDay(14000, 1400)] };
    const asked = { ...request, record: strong };
    const fits = fitOf(CHOSEN, asked);
    const found = suggestedSpareDate(fits, asked, (date) => readinessOf({ ...asked, date }));
    expect(found).toBe('2026-07-18');
  });

  it('is no date on which the route is worse: the season over, or too much of the training lost', () => {
    expect(fitOf(inSeason('06-01', '07-12'), { record, date: TRIP, design: DESIGN }, readiness).verdict).toBe(
      'fits',
    );
    expect(spare(inSeason('06-01', '07-12'))).toBeNull();
    // Just enough on the day itself: a week later it has faded below what the route asks.
    const barely: CohortRecord = {
      cohort: COHORT,
      outings: [shownDay(8050, 805)],
    };
    const tired = { ...request, record: barely };
    const asked: string[] = [];
    const found = suggestedSpareDate(fitOf(CHOSEN, tired), tired, (date) => {
      asked.push(date);
      return readinessOf({ ...tired, date });
    });
    expect(found).toBeNull();
    expect(asked).toEqual([7, 14, 21].map((days) => addDays(TRIP, days)));
  });

  it('looks as many weeks ahead as the settings say, to the first that will do', () => {
    const closed = (from: string, to: string): Route =>
      mountain({
        attributes: { rockClass: '2', treelineM: 1800, surface: 'trail', closures: [{ from, to }] },
      });
    const route = closed('07-15', '07-20');
    const design = { ...DESIGN, plan: { ...DESIGN.plan, spareWeeks: 1 } };
    expect(spare(route, design)).toBeNull();
    expect(spare(route)).toBe('2026-07-25');
    expect(spare(route, { ...DESIGN, plan: { ...DESIGN.plan, spareWeeks: 0 } })).toBeNull();
  });
});
