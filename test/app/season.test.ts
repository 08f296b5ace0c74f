import { describe, expect, it } from 'vitest';
import { seasonBoard, seasonQuestion } from '../../src/app/season.ts';
import { rank } from '../../src/app/shortlist.ts';
import { boardAnswer, type SolveBoard, solveBoard } from '../../src/app/solve-board.ts';
import { openSolver } from '../../src/app/solve-program.ts';
import { DESIGN, withChanges } from '../../src/design.ts';
import { EngineError } from '../../src/errors.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import type { SeasonTerms } from '../../src/ingest/season-file.ts';
import type { SeasonCohort } from '../../src/season/season.ts';
import { seasonView } from '../../src/views/season-view.ts';
import { COHORT, mountain, shownDay } from '../support/fit-input.ts';

const STATED: RouteAttributes = { rockClass: '2', treelineM: 1800, surface: 'trail' };
const DATES = ['2026-07-11', '2026-07-12'];
const BUS = { name: 'bus', seats: 12, clearance: 'any' } as const;
const TRUCK = { name: 'truck', seats: 10, clearance: 'high' } as const;

const hill = (name: string, gainM: number, attributes: RouteAttributes = {}) => ({
  id: null,
  route: mountain({ name, gainM, attributes: { ...STATED, ...attributes } }),
});

function group(
  name: string,
  more: Partial<SeasonCohort> = {},
  cohort: Partial<CohortInput> = {},
): SeasonCohort {
  const record = { cohort: { ...COHORT, ...cohort, name }, outings: [shownDay(12000, 1200)] };
  return { record, id: null, notOn: new Set(), ledBy: [], hasOwnVehicles: false, ...more };
}

const ROUTES = [hill('Low Hill', 600), hill('High Hill', 900), hill('Far too high', 1900)];

/** In this thread: starting one takes a second or so. */
const solveHere: SolveBoard = async (problem) => boardAnswer(problem, await openSolver(() => 60_000));

async function board(
  terms: Partial<SeasonTerms>,
  cohorts: readonly SeasonCohort[],
  routes = ROUTES,
  solve: SolveBoard = solveHere,
) {
  const question = seasonQuestion({ dates: DATES, ...terms }, { routes, cohorts });
  const made = await seasonBoard(question, DESIGN, { solve });
  return { ...made, view: seasonView(made, DESIGN, 'metric') };
}

const daysOf = ({ view }: Awaited<ReturnType<typeof board>>) =>
  view.days.flatMap(({ date, parties }) => parties.map((party) => ({ date, ...party })));

async function refused(work: () => unknown): Promise<EngineError> {
  try {
    await work();
  } catch (error) {
    if (error instanceof EngineError) return error;
    throw error;
  }
  throw new RangeError('nothing was refused');
}

describe('the board of a season', () => {
  it('gives each cohort one day, by the ranking’s own score and in vehicles that seat it', async () => {
    const made = await board({ vehicles: [BUS, TRUCK] }, [group('A'), group('B'), group('C')]);
    const days = daysOf(made);
    expect(days.map(({ cohort }) => cohort.name).sort()).toEqual(['A', 'B', 'C']);
    for (const { fit, pairing, vehicles, date, cohort, route } of made.placed) {
      const own = { ...cohort.record, cohort: { ...cohort.record.cohort, vehicles: [...(vehicles ?? [])] } };
      const ranked = rank([route.route], { record: own, date, design: DESIGN });
      expect(pairing.score).toBe(ranked[0]?.score);
      expect(fit.score).toBe(pairing.score);
      expect(['fits', 'stretch']).toContain(fit.verdict);
      expect((vehicles ?? []).reduce((sum, { seats }) => sum + seats, 0)).toBeGreaterThanOrEqual(10);
    }
    for (const { date } of made.view.days) {
      const ridden = days.filter((day) => day.date === date).flatMap(({ vehicles }) => vehicles ?? []);
      expect(new Set(ridden.map(({ name }) => name)).size).toBe(ridden.length);
    }
    expect(made.view).toMatchObject({ cohorts: 3, placed: 3, isProven: true, bounds: null, unplaced: [] });
  });

  it('is the same solved in a thread of its own', async () => {
    const cohorts = [group('A'), group('B')];
    const inThread = await board({ vehicles: [BUS] }, cohorts, ROUTES, solveBoard);
    expect(inThread.view).toEqual((await board({ vehicles: [BUS] }, cohorts)).view);
  });

  it('does not depend on the order in which cohorts, dates, routes and vehicles come', async () => {
    const cohorts = [group('A'), group('B', { notOn: new Set(['2026-07-12']) }), group('C')];
    const there = await board({ vehicles: [BUS] }, cohorts);
    const back = await board(
      { vehicles: [BUS], dates: DATES.toReversed() },
      cohorts.toReversed(),
      ROUTES.toReversed(),
    );
    expect(back.view).toEqual(there.view);
  });

  it('names the vehicles where they are what keeps a cohort out, and where it could go with more', async () => {
    const made = await board({ vehicles: [BUS], dates: ['2026-07-11'] }, [group('A'), group('B')]);
    expect(made.view.unplaced).toMatchObject([
      {
        why: 'limits',
        binds: ['vehicles'],
        limits: ['the one vehicle of 12 seats'],
        couldGo: { date: '2026-07-11' },
      },
    ]);
    expect(made.view.unplaced[0]?.text).toContain('because of the vehicles');
  });

  it('names a full permit, from the routes or from the season, and counts the stricter', async () => {
    const permit = { who: 'Warden', partiesPerDay: 1 };
    const routes = [hill('Low Hill', 600, { permit }), hill('High Hill', 900, { permit })];
    const dates = ['2026-07-11'];
    const byRoute = await board({ dates }, [group('A'), group('B')], routes);
    expect(byRoute.view.unplaced).toMatchObject([{ binds: ['permits'] }]);
    expect(byRoute.view.unplaced[0]?.limits[0]).toMatch(/^the permit at .* \(1 party a day\)$/);
    const loose = routes.map(({ route }) => ({
      id: null,
      route: { ...route, attributes: { ...route.attributes, permit: { ...permit, partiesPerDay: 5 } } },
    }));
    const bySeason = await board(
      { dates, limits: [{ who: 'warden', partiesPerDay: 1 }] },
      [group('A'), group('B')],
      loose,
    );
    expect(bySeason.view.unplaced).toMatchObject([
      { binds: ['permits'], limits: ['the permits of warden (1 party a day)'] },
    ]);
  });

  it('counts the vehicles of a party against the parking', async () => {
    const trailhead = { name: 'Mill', parkingSpaces: 1 };
    const routes = [hill('Low Hill', 600, { trailhead })];
    const small = [{ seats: 6, clearance: 'any' } as const, { seats: 6, clearance: 'any' } as const];
    const made = await board({ dates: ['2026-07-11'] }, [group('A', {}, { vehicles: small })], routes);
    expect(made.view.unplaced).toMatchObject([{ binds: ['parking'], limits: ['parking at Mill (1 space)'] }]);
  });

  it('sends a second vehicle to the end of a walk that ends elsewhere', async () => {
    const { id, route } = hill('Long Traverse', 600);
    const routes = [{ id, route: { ...route, measures: { ...route.measures, shape: 'oneWay' as const } } }];
    const both = await board({ vehicles: [BUS, TRUCK], dates: ['2026-07-11'] }, [group('A')], routes);
    expect(both.placed.map(({ vehicles }) => vehicles?.map(({ name }) => name))).toEqual([['bus', 'truck']]);
    const one = await board({ vehicles: [BUS], dates: ['2026-07-11'] }, [group('A')], routes);
    expect(one.view.unplaced).toHaveLength(1);
  });

  it('keeps a leader with one cohort a day', async () => {
    const led = [group('A', { ledBy: ['l1'] }), group('B', { ledBy: ['l1', 'l2'] })];
    const twoDays = daysOf(await board({}, led));
    expect(new Set(twoDays.map(({ date }) => date)).size).toBe(2);
    const oneDay = await board({ dates: ['2026-07-11'] }, led);
    expect(oneDay.view.unplaced).toMatchObject([
      { binds: ['leaders'], limits: ['leader l1, with one cohort a day'] },
    ]);
  });

  it('places nobody on a day that it cannot go, and says where it could have gone', async () => {
    const made = await board({}, [group('A', { notOn: new Set(DATES) })]);
    expect(made.view.unplaced).toMatchObject([{ why: 'limits', binds: ['dates'] }]);
  });

  it('places nobody where nothing fits, and says what comes nearest and which criterion rules', async () => {
    const made = await board({}, [group('A', {}, { comfortClass: '1' })]);
    expect(made.view.unplaced).toMatchObject([
      { why: 'nothingFits', binds: [], couldGo: null, nearest: { verdict: 'ruledOut' } },
    ]);
    expect(made.view.unplaced[0]?.ruling[0]).toEqual({ name: 'rockClass', routes: 3 });
    const unknown = await board({}, [{ ...group('A'), record: { cohort: COHORT, outings: [] } }]);
    expect(unknown.view.unplaced).toMatchObject([{ why: 'nothingFits', nearest: { verdict: 'incomplete' } }]);
  });

  it('judges by a party size that the season states as if the route stated it', async () => {
    const routes = [hill('Low Hill', 600, { trailhead: { name: 'Mill' } })];
    const made = await board({ limits: [{ trailhead: 'Mill', groupSizeLimit: 9 }] }, [group('A')], routes);
    expect(made.view.unplaced).toMatchObject([{ nearest: { criteria: [{ name: 'partySize' }] } }]);
  });

  it('says that the time ran out, and what could still be better', async () => {
    const late: SolveBoard = async (problem) => boardAnswer(problem, await openSolver(() => 0));
    const { view } = await board({}, [group('A')], ROUTES, late);
    expect(view).toMatchObject({ placed: 0, isProven: false, unplaced: [{ why: 'notFoundOut' }] });
    expect(view.text).toContain('The time for the search ran out');
    expect(view.bounds).toMatchObject({ placed: 1, worstScore: null });
    expect(view.bounds?.sumOfScores).toBeGreaterThan(0.5);
    expect(view.bounds?.sumOfScores).toBeLessThanOrEqual(1);
  });

  it('lets others have their turn while it ranks', async () => {
    let turns = 0;
    let isDone = false;
    const count = () => {
      turns += 1;
      if (!isDone) setImmediate(count);
    };
    setImmediate(count);
    await board({}, [group('A'), group('B')]);
    isDone = true;
    expect(turns).toBeGreaterThanOrEqual(4);
  });

  it('refuses a limit for a place that no route has, and guesses which was meant', async () => {
    const routes = [hill('Low Hill', 600, { trailhead: { name: 'Marram Mill' } })];
    const limits = [{ trailhead: 'Maram Mill', partiesPerDay: 1 }];
    const error = await refused(() => board({ limits }, [group('A')], routes));
    expect(error).toMatchObject({ code: 'bad-season', place: { pointer: '/limits/0/trailhead' } });
    expect(error.message).toContain('Did you mean "Marram Mill"?');
  });

  it('refuses more judgements than one board takes, and vehicles in too many ways', async () => {
    const small = withChanges({ season: { mostJudgements: 5, mostPacks: 1 } });
    const question = seasonQuestion({ dates: DATES }, { routes: ROUTES, cohorts: [group('A')] });
    const ask = (design: typeof DESIGN, asked = question) => seasonBoard(asked, design, { solve: solveHere });
    expect(await refused(() => ask(small))).toMatchObject({
      code: 'bad-season',
      place: { found: 6, limit: 5 },
    });
    const many = seasonQuestion({ dates: DATES, vehicles: [BUS, TRUCK] }, question);
    const packs = withChanges({ season: { mostPacks: 1 } });
    expect(await refused(() => ask(packs, many))).toMatchObject({
      code: 'bad-season',
      place: { pointer: '/vehicles' },
    });
  });
});
