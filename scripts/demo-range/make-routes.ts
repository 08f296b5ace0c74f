import { drawLine } from './draw-line.ts';
import { apartM, type Spot } from './frame.ts';
import { geojsonText } from './geojson.ts';
import { gpxText, type NamedSpot } from './gpx.ts';
import { distancesM, spotsAt, unevenSteps } from './line.ts';
import { type Random, randomStream } from './random.ts';
import { type Fix, receiver } from './receiver.ts';
import { type RoutePlan, spotOf } from './route-plan.ts';
import { heightAt, type Terrain } from './terrain.ts';

/** A file of the demo: its path below the output folder and what it holds. */
export interface OutputFile {
  readonly path: string;
  readonly content: string | Buffer;
}

/** A route as it came out on the ground: for the table of the README. */
export interface DrawnRoute {
  readonly plan: RoutePlan;
  /** The whole walk, way back included, metres. */
  readonly distanceM: number;
  readonly gainM: number;
  readonly startM: number;
  readonly highM: number;
  /** The way out of an out-and-back, else the whole line. */
  readonly line: readonly Spot[];
}

const LEAST_STEP_M = 15;
const MOST_STEP_M = 30;

/** Rise along a line, ups of under 5 m left out (dead band, common practice, no source). */
function riseM(terrain: Terrain, line: readonly Spot[]): number {
  const lengthM = distancesM(line).at(-1) ?? 0;
  const steps = Math.ceil(lengthM / 20);
  let sum = 0;
  let before: number | null = null;
  for (const spot of spotsAt(
    line,
    Array.from({ length: steps + 1 }, (_, k) => (k * lengthM) / steps),
  )) {
    const heightM = heightAt(terrain, spot);
    if (before === null || before - heightM >= 5) before = heightM;
    if (heightM - before < 5) continue;
    sum += heightM - before;
    before = heightM;
  }
  return sum;
}

/** Draws every planned route on the ground. */
export function drawRoutes(terrain: Terrain, plans: readonly RoutePlan[]): readonly DrawnRoute[] {
  return plans.map((plan) => {
    const line = drawLine(terrain, plan.line);
    const twice = plan.line.shape === 'outAndBack';
    const heights = line.map((spot) => heightAt(terrain, spot));
    return {
      plan,
      line,
      distanceM: (distancesM(line).at(-1) ?? 0) * (twice ? 2 : 1),
      gainM: riseM(terrain, line) + (twice ? riseM(terrain, [...line].reverse()) : 0),
      startM: heights[0] ?? 0,
      highM: Math.max(...heights),
    };
  });
}

/** The line as a receiver would have drawn it: points 15 to 30 m apart, each about 3 m off. */
function record(terrain: Terrain, route: DrawnRoute, random: Random): Fix[] {
  const ways =
    route.plan.line.shape === 'outAndBack' ? [route.line, [...route.line].reverse()] : [route.line];
  const receive = receiver(terrain, random);
  const fixes: Fix[] = [];
  for (const [k, way] of ways.entries()) {
    const along = unevenSteps(distancesM(way).at(-1) ?? 0, LEAST_STEP_M, MOST_STEP_M, random);
    const spots = spotsAt(way, along);
    for (const [n, spot] of spots.entries()) {
      // The turn is one point, not two.
      if (k === 1 && n === 0) continue;
      const before = spots[n - 1];
      fixes.push(receive(spot, before === undefined ? 0 : apartM(before, spot)));
    }
  }
  return fixes;
}

function namedStops(terrain: Terrain, plan: RoutePlan): NamedSpot[] {
  return plan.line.stops.flatMap((stop, k) => {
    const isRepeat = plan.line.stops.findIndex((other) => other.name === stop.name) < k;
    return stop.name === null || isRepeat ? [] : [{ name: stop.name, spot: spotOf(terrain, stop) }];
  });
}

/** The files of all routes, below `routes/`. */
export function routeFiles(terrain: Terrain, routes: readonly DrawnRoute[], seed: number): OutputFile[] {
  return routes.flatMap((route): OutputFile[] => {
    const { plan } = route;
    const fixes = record(terrain, route, randomStream(seed, `route/${plan.file}`));
    if (plan.format === 'geojson' && plan.attributes !== null) {
      const content = geojsonText(fixes, plan.heights, plan.attributes);
      return [{ path: `routes/${plan.file}.geojson`, content }];
    }
    const content = gpxText({
      name: plan.name,
      fixes,
      kind: plan.format === 'route' ? 'route' : 'track',
      heights: plan.heights,
      waypoints: plan.waypoints ? namedStops(terrain, plan) : [],
      times: null,
    });
    const line = { path: `routes/${plan.file}.gpx`, content };
    if (plan.attributes === null) return [line];
    const attributes = `${JSON.stringify(plan.attributes, null, 2)}\n`;
    return [line, { path: `routes/${plan.file}.route.json`, content: attributes }];
  });
}
