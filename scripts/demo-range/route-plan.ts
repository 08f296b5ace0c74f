import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { Spot } from './frame.ts';
import { heightAt, type Terrain } from './terrain.ts';

/** A place the line has to touch: `summit` moves to the highest ground within 300 m, the others stay. */
export interface Stop {
  readonly name: string | null;
  readonly eastKm: number;
  readonly southKm: number;
  readonly kind: 'start' | 'via' | 'summit';
}

/** A line on the ground: the stops it joins and how it climbs. */
export interface LinePlan {
  readonly shape: 'outAndBack' | 'loop' | 'oneWay';
  readonly stops: readonly Stop[];
  /** Rise over run that the line keeps where it can. */
  readonly steadyGrade: number;
}

/** One invented route: its line, the file it is kept in, and what its coordinator knows. */
export interface RoutePlan {
  readonly file: string;
  readonly name: string;
  readonly line: LinePlan;
  readonly format: 'track' | 'route' | 'geojson';
  /** Whether the file carries heights of its own. */
  readonly heights: boolean;
  /** Whether the named stops are written as points beside the line. */
  readonly waypoints: boolean;
  /** `null`: a bare file, nothing stated beside the line. */
  readonly attributes: RouteAttributes | null;
}

const SNAP_M = 300;
const SNAP_STEP_M = 10;

/** Where a stop lies on the finished ground. */
export function spotOf(terrain: Terrain, stop: Stop): Spot {
  const planned = { xM: stop.eastKm * 1000, yM: stop.southKm * 1000 };
  if (stop.kind !== 'summit') return planned;
  let best = planned;
  for (let dx = -SNAP_M; dx <= SNAP_M; dx += SNAP_STEP_M) {
    for (let dy = -SNAP_M; dy <= SNAP_M; dy += SNAP_STEP_M) {
      if (dx * dx + dy * dy > SNAP_M * SNAP_M) continue;
      const spot = { xM: planned.xM + dx, yM: planned.yM + dy };
      if (heightAt(terrain, spot) > heightAt(terrain, best)) best = spot;
    }
  }
  return best;
}
