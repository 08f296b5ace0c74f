import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demonstrated } from '../../src/capability/demonstrated.ts';
import { effortKj } from '../../src/capability/effort.ts';
import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { type AgeBand, DESIGN, withChanges } from '../../src/design.ts';
import { addDays, daysBetween } from '../../src/earth/local-time.ts';
import { EngineError } from '../../src/errors.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import type { TrainingInput } from '../../src/plan/training/question.ts';
import { asWalked, type TrainingStep } from '../../src/plan/training/steps.ts';
import { type TrainingPlan, trainingPlan } from '../../src/plan/training-plan.ts';
import { fitOf } from '../../src/rank/fit.ts';
import { type CohortRecord, readinessOf } from '../../src/rank/readiness.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import {
  stairText,
  stepText,
  stepWhy,
  suitableRouteText,
  trainingNotes,
  trainingText,
} from '../../src/text/training-words.ts';
import { elevated } from '../support/elevated.ts';
import { COHORT, mountain } from '../support/fit-input.ts';

const TODAY = '2026-05-04'; // a Monday
const TRIP = '2026-07-11'; // a Saturday
/** As many training days as it takes. */
const LONG = withChanges({ training: { mostSteps: 60 } });
const TARGET = mountain({
  lengthUpM: 5000,
  gainM: 800,
  baseM: 500,
  name: 'Lantern Top',
  // One date asked for lies in spring.
  attributes: {
    rockClass: '2',
    treelineM: 1800,
    surface: 'trail',
    season: { from: '05-01', to: '10-31' },
  },
});

const day = (date: string, distanceM: number, gainM: number, more: Partial<Outing> = {}): Outing => ({
  ...handOuting({ date, distanceM, gainM, rockClass: '2' }),
  ...more,
});

interface Given extends Partial<Omit<TrainingInput, 'record'>> {
  readonly outings?: readonly Outing[];
  readonly cohort?: Partial<CohortInput>;
}

function inputOf({
  outings = [day('2026-05-02', 9500, 700)],
  cohort = {},
  ...more
}: Given = {}): TrainingInput {
  return {
    route: TARGET,
    record: { cohort: { ...COHORT, ...cohort }, outings },
    today: TODAY,
    tripDate: TRIP,
    routes: [],
    design: DESIGN,
    ...more,
  };
}

const planOf = (given: Given = {}): TrainingPlan => trainingPlan(inputOf(given));
function atLast(steps: readonly TrainingStep[]): TrainingStep {
  const last = steps.at(-1);
  if (last === undefined) throw new RangeError('no step');
  return last;
}

/** The record with all steps walked as planned. */
const followed = (input: TrainingInput, plan: TrainingPlan): CohortRecord => ({
  ...input.record,
  outings: [...input.record.outings, ...plan.steps.map((step) => asWalked(step, input.record))],
});

function verdictsOn(date: string, input: TrainingInput, record: CohortRecord): Record<string, string> {
  const readiness = readinessOf({ record, date, design: input.design });
  const fit = fitOf(input.route, { record, date, design: input.design }, readiness);
  return Object.fromEntries(fit.judgements.map(({ name, verdict }) => [name, verdict]));
}

/** The same hill, its climb in doubt as one measured on coarse terrain is. */
function doubtful(route: Route, share: number): Route {
  const { gainM } = route.measures;
  if (gainM === null) return route;
  return { ...route, measures: { ...route.measures, gainM: { ...gainM, high: gainM.value * (1 + share) } } };
}

const outingLaw = fc.record({
  daysAgo: fc.integer({ min: 0, max: 120 }),
  distanceM: fc.integer({ min: 1500, max: 14000 }),
  gainM: fc.integer({ min: 0, max: 1100 }),
  doubt: fc.constantFrom(0, 0.1, 0.3),
  members: fc.constantFrom(null, ['m1'], ['m2'], ['m1', 'm2']),
});

const situation = fc.record({
  outings: fc.array(outingLaw, { maxLength: 4 }),
  lengthUpM: fc.integer({ min: 1500, max: 7000 }),
  gainM: fc.integer({ min: 0, max: 1300 }),
  doubt: fc.constantFrom(0, 0.1, 0.3),
  ageBand: fc.constantFrom<AgeBand>('8-11', '15-17', 'adult'),
  inDays: fc.integer({ min: 0, max: 200 }),
  weekday: fc.constantFrom(0, 3, 6),
});

function inputFrom(drawn: typeof situation extends fc.Arbitrary<infer T> ? T : never): TrainingInput {
  const route = mountain({ lengthUpM: drawn.lengthUpM, gainM: drawn.gainM, baseM: 200 });
  return inputOf({
    route: doubtful(route, drawn.doubt),
    outings: drawn.outings.map(({ daysAgo, distanceM, gainM, doubt, members }) =>
      day(addDays(TODAY, -daysAgo), distanceM, gainM, { gainHighM: gainM * (1 + doubt), members }),
    ),
    cohort: { ageBand: drawn.ageBand, members: ['m1', 'm2'] },
    tripDate: addDays(TODAY, drawn.inDays),
    design: withChanges({ training: { weekday: drawn.weekday } }),
  });
}

describe('following the plan', () => {
  it('makes distance, climb, work and rock class fit on the date that it leads to', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(situation, (drawn) => {
        const input = inputFrom(drawn);
        const plan = trainingPlan(input);
        seen.add(plan.state);
        if (plan.leadsTo === null) return;
        const verdicts = verdictsOn(plan.leadsTo, input, followed(input, plan));
        expect(verdicts).toMatchObject({ distance: 'fits', gain: 'fits', effort: 'fits', rockClass: 'fits' });
      }),
      { numRuns: 100, seed: 11 },
    );
    expect(seen).toEqual(new Set(['ready', 'train', 'tooShort', 'notThisSeason']));
  });

  it('never takes a leap: each step is within a stretch of what everyone has shown by its day', () => {
    fc.assert(
      fc.property(situation, (drawn) => {
        const input = inputFrom(drawn);
        const { steps, leadsTo } = trainingPlan(input);
        const { cohort } = input.record;
        const ageBand = drawn.ageBand;
        const goers = { members: cohort.members ?? null, going: null, ageBand };
        const most = ageBand === 'adult' ? 1.2 : 1.1;
        let outings = input.record.outings;
        let before =
          input.record.outings
            .map(({ date }) => date)
            .sort()
            .at(-1) ?? null;
        steps.forEach((step, i) => {
          expect(step.date > TODAY).toBe(true);
          if (before !== null) expect(daysBetween(before, step.date)).toBeGreaterThanOrEqual(7);
          if (i > 0 && before !== null) expect(daysBetween(before, step.date)).toBeLessThanOrEqual(14);
          if (step.growth !== null) {
            const shown = demonstrated(outings, goers, step.date, input.design);
            expect(step.distanceM).toBeLessThanOrEqual(most * (shown.distanceM?.value ?? 0) + 1e-6);
            expect(step.gainM).toBeLessThanOrEqual(most * (shown.gainM?.value ?? 0) + 1e-6);
            const { quantities } = asWalked(step, input.record);
            const workKj = quantities === null ? null : effortKj(quantities, ageBand, input.design);
            expect(workKj).toBeLessThanOrEqual(most * (shown.effortKj?.value ?? 0) + 1e-6);
          }
          outings = [...outings, asWalked(step, input.record)];
          before = step.date;
        });
        expect(steps.filter((step) => step.growth === null).length).toBeLessThanOrEqual(1);
        if (before !== null && leadsTo !== null && steps.length > 0) {
          expect(daysBetween(before, leadsTo)).toBeGreaterThanOrEqual(7);
          expect(daysBetween(before, leadsTo)).toBeLessThanOrEqual(14);
        }
      }),
      { numRuns: 40, seed: 12 },
    );
  });

  it('step by step stays on the way: planning again after each walk reaches the same trip', () => {
    let input = inputOf();
    let plan = trainingPlan(input);
    const planned = plan.steps.length;
    expect(plan.state).toBe('train');
    for (let left = planned; left > 0; left -= 1) {
      const [next] = plan.steps;
      if (next === undefined) throw new RangeError('no step left');
      expect(plan.steps).toHaveLength(left);
      const record = { ...input.record, outings: [...input.record.outings, asWalked(next, input.record)] };
      input = { ...input, record, today: next.date };
      plan = trainingPlan(input);
    }
    expect(plan.state).toBe('ready');
    expect(plan.milestones.map(({ state }) => state)).toEqual(['done', 'done', 'done']);
  });
});

describe('a training plan', () => {
  it('gives the three milestones days of their own, on the wished weekday, the last a week before the trip', () => {
    const plan = planOf();
    const { state, steps, milestones } = plan;
    expect(state).toBe('train');
    expect(steps.slice(-3).map(({ kind, date }) => [kind, date])).toEqual([
      ['distanceDay', '2026-06-20'],
      ['gainDay', '2026-06-27'],
      ['bothDay', '2026-07-04'],
    ]);
    expect(milestones.map(({ by }) => by)).toEqual(['2026-06-20', '2026-06-27', '2026-07-04']);
    expect(trainingText(plan, 'metric')).toContain('the last 7 days before the trip');
    const last = atLast(steps);
    // 10 km over what 7 days leave: 10,000 / 0.9567 (Coyle 1984 as fitted, sources.md §8).
    expect(stepText(last, 'metric')).toBe('at least 10.5 km with 850 m of climb');
    expect(stepWhy(last)).toContain('less the 4 %');
  });

  it('joins the milestones where there is no time to take them apart', () => {
    const { state, steps } = planOf({ outings: [day('2026-05-02', 10400, 840)], tripDate: '2026-05-23' });
    expect(state).toBe('train');
    expect(steps.map(({ kind, date }) => [kind, date])).toEqual([['bothDay', '2026-05-16']]);
  });

  it('is empty where what was shown is enough', () => {
    const { state, steps, milestones, inTheWay } = planOf({
      outings: [day('2026-06-27', 12000, 1000)],
      today: '2026-06-29',
    });
    expect(state).toBe('ready');
    expect(steps).toEqual([]);
    expect(inTheWay).toEqual([]);
    expect(milestones.map(({ state: done, date }) => [done, date])).toEqual(
      Array.from({ length: 3 }, () => ['done', '2026-06-27']),
    );
  });

  it('asks for a milestone again where time takes too much of it', () => {
    const { milestones } = planOf({ outings: [day('2026-05-02', 10100, 500)], design: LONG });
    expect(milestones[0]).toMatchObject({ name: 'distanceDay', state: 'again', date: '2026-05-02' });
    expect(milestones[0]?.by).toMatch(/^2026-0[67]-\d\d$/);
    expect(milestones[1]).toMatchObject({ name: 'gainDay', state: 'planned', date: null });
  });

  it('says how much the time is too short, the nearest date, and the steps to that one', () => {
    const short = planOf({ outings: [day('2026-05-02', 7000, 450)], design: LONG });
    expect(short.state).toBe('tooShort');
    const { leadsTo, shortByDays } = short;
    if (leadsTo === null || shortByDays === null) throw new RangeError('no later date');
    expect(daysBetween(TRIP, leadsTo)).toBe(shortByDays);
    expect(trainingText(short, 'metric')).toContain(`too short by ${shortByDays} days`);
    expect(trainingText(short, 'metric')).toContain(leadsTo);
    expect(short.steps.at(-1)?.date).toBe(addDays(leadsTo, -7));
    const given = { outings: [day('2026-05-02', 7000, 450)], design: LONG };
    expect(planOf({ ...given, tripDate: leadsTo }).state).toBe('train');
    expect(planOf({ ...given, tripDate: addDays(leadsTo, -7) }).state).toBe('tooShort');
  });

  it('never plans a day that has gone by, however near the trip is', () => {
    for (const tripDate of [TODAY, addDays(TODAY, 1), addDays(TODAY, 8)]) {
      const { state, steps } = planOf({ tripDate });
      expect(state).toBe('tooShort');
      expect(steps.every(({ date }) => date > TODAY)).toBe(true);
    }
  });

  it('says so where the trip lies before today', () => {
    const plan = planOf({ tripDate: '2026-05-03' });
    expect(plan.state).toBe('past');
    expect(trainingText(plan, 'metric')).toBe(
      'The trip’s date, 2026-05-03, lies before today, 2026-05-04: choose a later one.',
    );
    expect(plan.steps).toEqual([]);
  });

  it('says so where no date within the horizon can be reached', () => {
    const route = mountain({ lengthUpM: 12000, gainM: 3000, baseM: 100 });
    const design = withChanges({ training: { horizonDays: 60 } });
    const plan = planOf({ route, design });
    expect([plan.state, plan.leadsTo, plan.shortByDays]).toEqual(['notThisSeason', null, null]);
    expect(plan.why).toEqual({ code: 'outOfReach' });
    expect(trainingText(plan, 'metric')).toContain('Not this season');
  });

  it('is “not this season” beyond eight days of training, with what would do on the date instead', () => {
    const low = mountain({ name: 'Low Rise', lengthUpM: 3000, gainM: 200, baseM: 300 });
    const plan = planOf({ outings: [day('2026-05-02', 7000, 450)], routes: [low, TARGET] });
    expect(plan.state).toBe('notThisSeason');
    expect(plan.steps).toEqual([]);
    expect(plan.leadsTo).toBeNull();
    expect(plan.why).toMatchObject({ code: 'tooManySteps' });
    const { nearer, why } = plan;
    if (nearer === null || why?.code !== 'tooManySteps') throw new RangeError('no nearer aim');
    expect(why.days).toBeGreaterThan(8);
    expect(nearer.dates.length).toBeLessThanOrEqual(8);
    expect(nearer.dates.every((date) => date > TODAY && date < TRIP)).toBe(true);
    expect(nearer.distanceM).toBeGreaterThan(7000);
    expect(nearer.distanceM).toBeLessThan(10_000);
    expect(nearer.routes).toEqual(['Low Rise']);
    const text = trainingText(plan, 'metric');
    expect(text).toMatch(/^Not this season: it would take about \d+ training days/);
    expect(text).toContain(`A nearer aim for ${TRIP}`);
  });

  it('names what is shown now where there is no time for a day of training', () => {
    const { nearer } = planOf({ tripDate: addDays(TODAY, 3) });
    expect(nearer?.dates).toEqual([]);
    expect(nearer?.distanceM).toBeLessThanOrEqual(9500);
  });

  it('is “not this season” where the steps lead to a date on which the route is closed', () => {
    const open = { ...TARGET.attributes, season: { from: '05-01', to: '05-20' } };
    const plan = planOf({
      route: { ...TARGET, attributes: open },
      outings: [day('2026-05-02', 9500, 700)],
      tripDate: '2026-05-16',
    });
    expect(plan.why).toMatchObject({ code: 'outOfSeason' });
    expect(plan.steps).toEqual([]);
  });

  it('plans nothing for a climb that is not known', () => {
    const heightsM = [300, null, null, null, null, null, null, null, 310];
    const route = describeRoute(elevated({ heightsM }), DESIGN, { attributes: { rockClass: '1' } });
    const plan = planOf({ route });
    expect([plan.state, plan.target]).toEqual(['unknown', null]);
    expect(trainingText(plan, 'metric')).toContain('elevation tiles');
  });

  it('leaves out what is dated after today, and says so', () => {
    const outings = [day('2026-05-02', 9500, 700), day('2026-05-20', 14000, 1300)];
    const plan = planOf({ outings });
    expect(plan.steps).toEqual(planOf().steps);
    expect(plan.leftOut).toBe(1);
    expect(trainingNotes(plan, 'metric')).toContain('1 outing dated after today was left out.');
  });

  it('refuses what is no date', () => {
    for (const given of [{ today: '2026-02-30' }, { tripDate: 'soon' }]) {
      expect(() => planOf(given)).toThrow(EngineError);
      expect(() => planOf(given)).toThrow(/is not a date/);
    }
  });

  it('begins with a short walk with everyone where somebody has shown nothing, and says that it is assumed', () => {
    const cohort = { members: ['zk7', 'qv9'], going: ['zk7', 'qv9'] };
    const outings = [day('2026-05-02', 12000, 1000, { members: ['zk7'] })];
    const plan = planOf({ cohort, outings, tripDate: '2027-07-10', design: LONG });
    const [first] = plan.steps;
    expect(first).toMatchObject({ kind: 'assessment', distanceM: 5000, gainM: 150, growth: null });
    expect(trainingNotes(plan, 'metric').join(' ')).toContain('The size of the first walk is an assumption');
    // Who it is that has shown nothing is for leaders alone.
    expect(JSON.stringify(plan)).not.toMatch(/zk7|qv9/);
    expect(
      planOf({ outings: [], cohort: { ageBand: 'adult' }, tripDate: '2027-07-10', design: LONG }).steps[0],
    ).toMatchObject({
      distanceM: 8000,
      gainM: 300,
    });
  });

  it('never begins with more work than everyone is known to have done', () => {
    const old = day('2025-09-20', 2500, 60);
    const { steps } = planOf({ outings: [old], tripDate: '2027-07-10', design: LONG });
    const work = (outing: Outing) =>
      outing.quantities === null ? null : effortKj(outing.quantities, '15-17', DESIGN);
    const [first] = steps;
    if (first === undefined) throw new RangeError('no step');
    expect(first).toMatchObject({ kind: 'assessment', growth: null });
    expect(work(asWalked(first, inputOf().record))).toBeLessThanOrEqual(work(old) ?? 0);
  });

  it('does not take a level walk for all that a group can climb', () => {
    const { steps } = planOf({
      outings: [day('2026-05-02', 9000, 15)],
      tripDate: '2027-07-10',
      design: LONG,
    });
    expect(steps[0]).toMatchObject({ kind: 'assessment', growth: null, gainM: 150 });
  });

  it('asks for a short day on the ground where only the class is new', () => {
    const walked = { date: '2026-05-02', distanceM: 13_000, gainM: 1200, movingMin: 300, rockClass: '1' };
    const { state, steps, verdictAfter } = planOf({
      outings: [handOuting(walked)],
      tripDate: '2026-05-23',
    });
    expect(state).toBe('train');
    expect(steps.map(({ kind, rockClass }) => [kind, rockClass])).toEqual([['classDay', '2']]);
    expect(steps[0]?.distanceM).toBeLessThan(6000);
    expect(verdictAfter).toBe('fits');
  });

  it('says what training does not settle', () => {
    const route = mountain({
      lengthUpM: 5000,
      gainM: 800,
      baseM: 500,
      attributes: { rockClass: '4', treelineM: 1800, surface: 'trail', openGround: 'none' },
    });
    const plan = planOf({ route });
    expect(plan.inTheWay.map(({ name }) => name)).toEqual(['rockClass']);
    expect(trainingNotes(plan, 'metric').join(' ')).toContain('class 4 is above the group’s comfort class 2');
  });

  it('speaks US units from the same numbers', () => {
    const last = atLast(planOf().steps);
    expect(stepText(last, 'us')).toBe('at least 6.5 mi with 2,800 ft of climb');
    expect(stairText(last.stair, 'us')).toContain('66 ft');
  });
});

describe('the places for a step', () => {
  const hill = (name: string, lengthUpM: number, gainM: number, more = {}): Route =>
    mountain({
      name,
      lengthUpM,
      gainM,
      baseM: 100,
      attributes: { rockClass: '1', treelineM: 1800, surface: 'trail', ...more },
    });

  it('are known routes of the right size that the group may go to, never the trip’s own', () => {
    const routes = [
      TARGET,
      hill('Sandpiper Rise', 5000, 730),
      hill('Far Rise', 5000, 730, { trailhead: { roadKm: 900 } }),
      hill('Big Rise', 6000, 1100),
      hill('Steep Rise', 5000, 730, { rockClass: '4' }),
    ];
    const { steps } = planOf({ routes });
    const told = steps.flatMap((step) => step.routes.map(({ name }) => name));
    expect(new Set(told)).toEqual(new Set(['Sandpiper Rise']));
    for (const step of steps) {
      for (const route of step.routes) {
        expect(['fits', 'stretch']).toContain(route.verdict);
        expect(route.distanceM).toBeLessThanOrEqual(step.mostDistanceM);
        expect(route.gainM).toBeLessThanOrEqual(step.mostGainM);
        if (step.kind !== 'gainDay') {
          expect(route.distanceM + route.addDistanceM).toBeGreaterThanOrEqual(step.distanceM - 1e-6);
        }
      }
    }
  });

  it('name what to add where a route is nearly the step', () => {
    const { steps } = planOf({ routes: [hill('Short Rise', 3800, 600)] });
    const [route] = steps.flatMap((step) => step.routes);
    if (route === undefined) throw new RangeError('no route');
    expect(route.addDistanceM).toBeGreaterThan(0);
    expect(suitableRouteText(route, 'metric')).toMatch(
      /^Short Rise: 7\.6 km with \d+ m of climb, and add \d\.\d km on level ways/,
    );
  });

  it('are a low hill several times, or a stair', () => {
    const { steps } = planOf({ routes: [hill('Low Knoll', 500, 100)] });
    const last = steps.at(-1);
    expect(last?.repeats).toMatchObject({ name: 'Low Knoll' });
    expect(last?.repeats?.times).toBeGreaterThanOrEqual(6);
    expect((last?.repeats?.gainM ?? 0) + (last?.repeats?.addGainM ?? 0)).toBeGreaterThanOrEqual(
      (last?.gainM ?? 0) - 60,
    );
    expect(last?.stair.times).toBe(Math.ceil((last?.gainM ?? 0) / 20));
  });

  it('are for a first walk on class 1 ground', () => {
    const routes = [hill('Easy Wood', 2400, 120), hill('Rough Moor', 2400, 120, { rockClass: '2' })];
    const { steps } = planOf({ routes, outings: [], tripDate: '2027-07-10', design: LONG });
    expect(steps[0]?.routes.map(({ name }) => name)).toEqual(['Easy Wood']);
  });
});
