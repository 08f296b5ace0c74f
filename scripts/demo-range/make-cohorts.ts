import type { CohortPlan, TrackOuting } from './cohort-table.ts';
import { drawLine } from './draw-line.ts';
import { degreesOf, type Spot } from './frame.ts';
import { gpxText } from './gpx.ts';
import { distancesM } from './line.ts';
import type { DrawnRoute, OutputFile } from './make-routes.ts';
import { randomStream } from './random.ts';
import type { Terrain } from './terrain.ts';
import { simulateWalk } from './walk-clock.ts';

const MS_PER_H = 3_600_000;
/** The place keeps UTC-2. */
const UTC_BEHIND_H = 2;

/** The whole walk, and how far along it the group turns round or stands highest. */
function walkLine(
  terrain: Terrain,
  outing: TrackOuting,
  routes: readonly DrawnRoute[],
): { readonly line: readonly Spot[]; readonly turnM: number } {
  const route = routes.find(({ plan }) => plan.file === outing.line);
  const plan = route?.plan.line ?? outing.line;
  if (typeof plan === 'string') throw new RangeError(`no route ${plan} in the table`);
  const way = route?.line ?? drawLine(terrain, plan);
  const lengthM = distancesM(way).at(-1) ?? 0;
  if (plan.shape === 'outAndBack') return { line: [...way, ...[...way].reverse().slice(1)], turnM: lengthM };
  return { line: way, turnM: lengthM / 2 };
}

function walkFile(
  terrain: Terrain,
  cohort: CohortPlan,
  outing: TrackOuting,
  routes: readonly DrawnRoute[],
  seed: number,
): OutputFile {
  const { line, turnM } = walkLine(terrain, outing, routes);
  const startMs = Date.parse(`${outing.date}T${outing.startClock}:00Z`) + UTC_BEHIND_H * MS_PER_H;
  const gait = { startMs, paceFactor: cohort.paceFactor, restEveryMin: 55, restMin: 9, topRestMin: 30 };
  const walk = simulateWalk(terrain, line, turnM, gait, randomStream(seed, `walk/${outing.walk}`));
  const content = gpxText({ name: outing.name, kind: 'track', heights: true, waypoints: [], ...walk });
  return { path: `cohorts/walks/${outing.walk}.gpx`, content };
}

const hundredth = (degrees: number): number => Number(degrees.toFixed(2));

function cohortFile(cohort: CohortPlan): OutputFile {
  const home = degreesOf({ xM: cohort.home.eastKm * 1000, yM: cohort.home.southKm * 1000 });
  const outings = cohort.outings.map((outing) => {
    const { date, rockClass } = outing;
    const members = outing.members === null ? {} : { members: outing.members };
    if (outing.kind === 'track') return { date, track: `walks/${outing.walk}.gpx`, rockClass, ...members };
    const { distanceM, gainM, movingMin, maxElevationM } = outing;
    return { date, distanceM, gainM, movingMin, maxElevationM, rockClass, ...members };
  });
  const content = {
    name: cohort.name,
    participants: cohort.participants,
    leaders: cohort.leaders,
    ageBand: cohort.ageBand,
    ...(cohort.members === null ? {} : { members: cohort.members, going: cohort.members }),
    home: { lat: hundredth(home.latDeg), lon: hundredth(home.lonDeg), name: cohort.home.name },
    driveLimit: { km: cohort.driveLimitKm, minutes: null },
    vehicles: cohort.vehicles,
    comfortClass: cohort.comfortClass,
    sleepElevationM: cohort.sleepElevationM,
    altitudeHistory: 'none',
    earliestStart: cohort.earliestStart,
    headlamps: true,
    deadline: null,
    aim: cohort.aim,
    outings,
  };
  return { path: `cohorts/${cohort.file}.json`, content: `${JSON.stringify(content, null, 2)}\n` };
}

/** The cohort files and the walks they name, below `cohorts/`. */
export function cohortFiles(
  terrain: Terrain,
  cohorts: readonly CohortPlan[],
  routes: readonly DrawnRoute[],
  seed: number,
): OutputFile[] {
  return cohorts.flatMap((cohort) => [
    cohortFile(cohort),
    ...cohort.outings.flatMap((outing) =>
      outing.kind === 'track' ? [walkFile(terrain, cohort, outing, routes, seed)] : [],
    ),
  ]);
}
