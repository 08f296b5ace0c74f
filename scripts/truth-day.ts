/**
 * How well the printed probability of being below treeline by the deadline holds: `npm run truth:day [-- --json]`.
 * On the demo's routes and cohorts: days drawn from the pace model itself, days that arrive at a checkpoint at its
 * cut-off time, and days of simulated groups that walk by other rules.
 */

import { cpus } from 'node:os';
import { readCohortFile, readRouteFiles } from '../src/app/files.ts';
import { routesOf } from '../src/app/measure.ts';
import { cohortRecordOf } from '../src/app/recordings.ts';
import {
  fitPaceModel,
  type PaceModel,
  probabilityWithin,
  quantileMin,
} from '../src/capability/pace-model.ts';
import type { Quantities } from '../src/capability/quantities.ts';
import type { Leg } from '../src/capability/rules/leg.ts';
import { table } from '../src/cli/table.ts';
import { turnBackTimes } from '../src/day/turn-back.ts';
import { mealMinOf, type Stretch, walkingOf, withStops } from '../src/day/walking.ts';
import { DESIGN } from '../src/design.ts';
import { readinessOf } from '../src/rank/readiness.ts';
import type { Route } from '../src/route/describe-route.ts';
import { openSurface } from '../src/terrain/tile-set.ts';
import { MS_PER_MIN } from '../src/units.ts';
import { sized } from './bench/size.ts';
import { randomStream } from './demo-range/random.ts';
import { type DayKind, EVEN_DAYS, gaussian, outingOf, walkedParts, worlds } from './truth/pace-worlds.ts';
import { dayDrawer } from './truth/walked-days.ts';

const SEED = 20260711;
const DATE = '2026-07-11';
const COHORTS = ['cranny-juniors', 'marram-seniors', 'plover-adults'];
const ROUTES = ['two-knolls-round', 'kettle-crown', 'cistern-traverse', 'bellbuoy-head', 'fathom-horn'];
const ASKED = [0.5, 0.8, 0.9, 0.95];
const DAY_ERROR = 0.1;
const LEG_ERROR = 0.05;
/** A day counts as arriving at the cut-off within so many minutes before it. */
const NEAR_CUT_OFF_MIN = 5;

export interface DayRow {
  readonly case: string;
  readonly printed: number;
  /** Share of the days that were below treeline by the deadline. */
  readonly met: number;
  readonly days: number;
}

interface Exposed {
  readonly route: Route;
  /** Along the route: first ground above treeline, the high point, and where it is left for good. */
  readonly upM: number;
  readonly highM: number;
  readonly downM: number;
}

export async function exposedRoutes(): Promise<Exposed[]> {
  const surface = await openSurface(['data/demo/dem']);
  const files = await readRouteFiles(ROUTES.map((name) => `data/demo/routes/${name}.gpx`));
  const routes: Route[] = [];
  for (const file of files) routes.push(...(await routesOf(file, { surface, design: DESIGN })));
  await surface.close();
  return routes.flatMap((route) => {
    const above = route.pieces.filter((piece) => piece.aboveTreeline === true);
    const [first] = above;
    const last = above.at(-1);
    if (first === undefined || last === undefined || route.high === null) return [];
    return [{ route, upM: first.fromM, highM: route.high.distanceM, downM: last.toM }];
  });
}

async function demoPaces(): Promise<{ name: string; pace: PaceModel }[]> {
  const surface = await openSurface(['data/demo/dem']);
  const paces: { name: string; pace: PaceModel }[] = [];
  for (const name of COHORTS) {
    const { cohort, readTrack } = await readCohortFile(`data/demo/cohorts/${name}.json`);
    const record = await cohortRecordOf(cohort, readTrack, { surface, design: DESIGN });
    paces.push({ name, pace: readinessOf({ record, date: DATE, design: DESIGN }).pace });
  }
  await surface.close();
  return paces;
}

const doubtsOf = (route: Route, stretch: Stretch) => {
  const gain = route.measures.gainM;
  const climbM = route.pieces.reduce((sum, piece) => sum + piece.climbM, 0);
  return {
    ground: stretch.lengthM > 0 ? stretch.groundDoubtM / stretch.lengthM : 0,
    // The band is a 90 % interval.
    climbShare: gain === null || climbM === 0 ? 0 : (gain.high - gain.low) / 2 / 1.645 / climbM,
  };
};

/**
 * Shares of drawn days that are turned round by the sheet's own times for treeline and top, of each demo plan: started
 * as planned where there is room, and at the latest start.
 */
export function turnedBySheet(
  exposed: readonly Exposed[],
  paces: readonly { readonly name: string; readonly pace: PaceModel }[],
  days: number,
): DayRow[] {
  const { probability, planProbability } = DESIGN.stormWindow;
  return exposed.flatMap(({ route, upM, highM, downM }) =>
    paces.flatMap(({ name, pace }) =>
      [planProbability, probability].map((started): DayRow => {
        const random = randomStream(SEED, `${route.name}/${name}/turned`);
        const { onward, timeOf } = walkingOf(route, pace, DESIGN);
        const meal = mealMinOf(timeOf(onward(0, Number.POSITIVE_INFINITY)).meanMin, DESIGN.day);
        const toExit = onward(0, downM);
        const deadlineMs = quantileMin(withStops(timeOf(toExit), pace, meal), started) * MS_PER_MIN;
        const places = [upM, highM];
        const { at } = turnBackTimes(route, pace, places, { deadlineMs, backByMs: null }, DESIGN);
        const ways = places.map((atM) => onward(0, atM));
        const draw = dayDrawer(pace, doubtsOf(route, toExit));
        let through = 0;
        for (let i = 0; i < days; i += 1) {
          const day = draw(random);
          const isTurned = ways.some((way, k) => day(way) * MS_PER_MIN > (at[k]?.stormMs ?? 0));
          if (!isTurned) through += 1;
        }
        const when = started === planProbability ? 'as planned' : 'at the latest start';
        return {
          case: `${route.name}, ${name}, ${when}: not turned by the sheet`,
          printed: started,
          met: through / days,
          days,
        };
      }),
    ),
  );
}

/** Days drawn from the pace model, and of these the ones that come to treeline, or the top, at its cut-off time. */
export function byThePaceModel(
  exposed: readonly Exposed[],
  paces: readonly { readonly name: string; readonly pace: PaceModel }[],
  days: number,
): DayRow[] {
  const met = ASKED.map(() => 0);
  const late = { treeline: { days: 0, met: 0 }, top: { days: 0, met: 0 } };
  const perCase = Math.ceil(days / exposed.length / paces.length);
  let walked = 0;
  for (const { route, upM, highM, downM } of exposed) {
    for (const { name, pace } of paces) {
      const random = randomStream(SEED, `${route.name}/${name}`);
      const { onward, timeOf } = walkingOf(route, pace, DESIGN);
      const meal = mealMinOf(timeOf(onward(0, Number.POSITIVE_INFINITY)).meanMin, DESIGN.day);
      const toExit = onward(0, downM);
      const exit = withStops(timeOf(toExit), pace, meal);
      const draw = dayDrawer(pace, doubtsOf(route, toExit));
      const budgets = ASKED.map((p) => quantileMin(exit, p));
      // From the latest start: the budget that is met nine times in ten.
      const budget = quantileMin(exit, DESIGN.stormWindow.probability);
      // Minutes after the start serve as moments here.
      const { at } = turnBackTimes(
        route,
        pace,
        [upM, highM],
        { deadlineMs: budget * MS_PER_MIN, backByMs: null },
        DESIGN,
      );
      const [treelineBy, topBy] = at.map(({ stormMs }) => (stormMs ?? 0) / MS_PER_MIN);
      for (let i = 0; i < perCase; i += 1) {
        const day = draw(random);
        const took = day(toExit) + meal;
        budgets.forEach((minutes, k) => {
          if (took <= minutes) met[k] = (met[k] ?? 0) + 1;
        });
        walked += 1;
        for (const [place, atM, latest = 0] of [
          ['treeline', upM, treelineBy],
          ['top', highM, topBy],
        ] as const) {
          const arrived = day(onward(0, atM));
          if (arrived > latest || arrived < latest - NEAR_CUT_OFF_MIN) continue;
          late[place].days += 1;
          if (took <= budget) late[place].met += 1;
        }
      }
    }
  }
  return [
    ...ASKED.map((printed, k) => ({
      case: 'days drawn from the pace model',
      printed,
      met: (met[k] ?? 0) / walked,
      days: walked,
    })),
    ...Object.entries(late).map(([place, { days: count, met: done }]) => ({
      case: `of these, at the ${place} within ${NEAR_CUT_OFF_MIN} min of its cut-off time`,
      printed: DESIGN.stormWindow.probability,
      met: count > 0 ? done / count : Number.NaN,
      days: count,
    })),
  ];
}

const legsOf = (walk: Quantities): Leg[] =>
  [
    { horizontalM: walk.upKm * 1000, climbM: walk.upM, dropM: 0 },
    { horizontalM: walk.downKm * 1000, climbM: 0, dropM: walk.downM },
  ].filter((leg) => leg.horizontalM > 0);

/** Days of groups that walk by another rule, predicted after 0 to `outings` of their own training days. */
export function byOtherRules(
  exposed: readonly Exposed[],
  groups: number,
  outings: readonly number[],
  kind: DayKind = EVEN_DAYS,
): DayRow[] {
  const rows: DayRow[] = [];
  const prior = fitPaceModel([], DESIGN).prior;
  const spread = { shared: DESIGN.pace.sharedSpread, own: DESIGN.pace.ownSpread };
  for (const world of worlds(spread).filter(({ name }) => !name.includes('prior'))) {
    const met = outings.map(() => ASKED.map(() => 0));
    for (let i = 0; i < groups; i += 1) {
      const random = randomStream(SEED + i, world.name);
      const truth = world.group(random, prior);
      const trained = Array.from({ length: Math.max(...outings) }, () =>
        outingOf(walkedParts(kind.draw(random, { km: [4, 16], climbM: [100, 1000] }), truth, random)),
      );
      const chosen = exposed[i % exposed.length];
      if (chosen === undefined) continue;
      // One error for the whole day, one for each leg, drawn once: the same day for every number of outings.
      const day = 1 + DAY_ERROR * gaussian(random);
      const legError = [gaussian(random), gaussian(random)];
      outings.forEach((count, n) => {
        const pace = fitPaceModel(trained.slice(0, count), DESIGN);
        const { onward, timeOf } = walkingOf(chosen.route, pace, DESIGN);
        const toExit = onward(0, chosen.downM);
        const exit = timeOf(toExit);
        const took = legsOf(toExit.walk).reduce(
          (sum, leg, k) => sum + truth(leg) * day * (1 + LEG_ERROR * (legError[k] ?? 0)),
          0,
        );
        ASKED.forEach((p, k) => {
          const row = met[n];
          if (row !== undefined && probabilityWithin(exit, took) <= p) row[k] = (row[k] ?? 0) + 1;
        });
      });
    }
    outings.forEach((count, n) => {
      ASKED.forEach((printed, k) => {
        rows.push({
          case: `${world.name}, ${count} outings`,
          printed,
          met: (met[n]?.[k] ?? 0) / groups,
          days: groups,
        });
      });
    });
  }
  return rows;
}

export async function truthDay(days: number, groups: number): Promise<DayRow[]> {
  const exposed = await exposedRoutes();
  const paces = await demoPaces();
  return [
    ...turnedBySheet(exposed, paces, days / 5),
    ...byThePaceModel(exposed, paces, days),
    ...byOtherRules(exposed, groups, [0, 3, 4, 8]),
  ];
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

function print(rows: readonly DayRow[]): void {
  const right = 'right' as const;
  process.stdout.write(
    `${table(
      [
        ['days', 'number', 'printed', 'met', 'too hopeful by'],
        ...rows.map((row) => [
          row.case,
          String(row.days),
          percent(row.printed),
          percent(row.met),
          `${(100 * (row.printed - row.met)).toFixed(1)} points`,
        ]),
      ],
      ['left', right, right, right, right],
    )}\n`,
  );
}

function printJson(rows: readonly DayRow[]): void {
  const document = {
    name: 'truth:day',
    machine: `node ${process.version}, ${cpus().length} cores`,
    rows: rows.map((row) => ({
      case: row.case,
      ours: row.printed,
      reference: row.met,
      unit: 'probability of being below treeline by the deadline',
      ratio: row.printed / row.met,
      referenceIs: `share of ${row.days} simulated days`,
    })),
  };
  process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
}

if (process.argv[1]?.endsWith('truth-day.ts') === true) {
  const rows = await truthDay(sized(10_000, 200), sized(1000, 5));
  if (process.argv.includes('--json')) printJson(rows);
  else print(rows);
}
