import { greatestBy } from '../array.ts';
import { type BoundingBox, nearestTurnDeg } from '../earth/geodesic.ts';
import { localScale } from '../earth/local-scale.ts';
import type { Route } from './describe-route.ts';

/** Room around the lines: this share of the longer side, and so many metres at least (design). */
const MARGIN_SHARE = 0.12;
const LEAST_MARGIN_M = 250;
/** No map is smaller than this on a side, and none more than so many times as long one way as the other (design). */
const LEAST_SIDE_M = 2000;
const MOST_ASPECT = 1.35;
/** Beyond this latitude a plane map of degrees says little; nobody leads a group there. */
const MOST_LAT_DEG = 89;

type Lines = readonly Pick<Route, 'line'>[];

/** How far two places lie apart as a map of degrees has it, the larger way. */
function distanceDeg(
  [aLon, aLat]: readonly [number, number],
  [bLon, bLat]: readonly [number, number],
): number {
  return Math.max(Math.abs(nearestTurnDeg(bLon, aLon) - aLon), Math.abs(bLat - aLat));
}

/**
 * The most routes that begin near one of them, and the strays, both in the order given: one file that lies far off must
 * not cost the map of all the others.
 */
export function nearEachOther<R extends { readonly route: Pick<Route, 'line'> }>(
  routes: readonly R[],
  withinDeg: number,
): { readonly near: readonly R[]; readonly far: readonly R[] } {
  const starts = routes.map(({ route }) => route.line.flat()[0]);
  const isNear = (a: (typeof starts)[number], b: (typeof starts)[number]) =>
    a !== undefined && b !== undefined && distanceDeg([a[0], a[1]], [b[0], b[1]]) <= withinDeg;
  const best =
    greatestBy(starts, (start) => starts.filter((other) => isNear(start, other)).length) ?? undefined;
  return {
    near: routes.filter((_, i) => isNear(best, starts[i])),
    far: routes.filter((_, i) => !isNear(best, starts[i])),
  };
}

/** The frame of a map of routes, north up, with room around them; `null`: no route has a point. */
export function mapFrame(routes: Lines): BoundingBox | null {
  const first = routes.flatMap(({ line }) => line.flat())[0];
  if (first === undefined) return null;
  let [west, east, south, north] = [first[0], first[0], first[1], first[1]];
  for (const { line } of routes) {
    for (const [lonDeg, latDeg] of line.flat()) {
      const turned = nearestTurnDeg(lonDeg, first[0]);
      west = Math.min(west, turned);
      east = Math.max(east, turned);
      south = Math.min(south, latDeg);
      north = Math.max(north, latDeg);
    }
  }
  const middleLat = Math.min(MOST_LAT_DEG, Math.max(-MOST_LAT_DEG, (south + north) / 2));
  const scale = localScale(middleLat);
  const wideM = (east - west) * scale.mPerDegLon;
  const highM = (north - south) * scale.mPerDegLat;
  const marginM = Math.max(LEAST_MARGIN_M, MARGIN_SHARE * Math.max(wideM, highM));
  const sideM = (own: number, other: number): number =>
    Math.max(LEAST_SIDE_M, own + 2 * marginM, (other + 2 * marginM) / MOST_ASPECT);
  const halfLon = sideM(wideM, highM) / 2 / scale.mPerDegLon;
  const halfLat = sideM(highM, wideM) / 2 / scale.mPerDegLat;
  const middleLon = (west + east) / 2;
  return {
    westDeg: middleLon - halfLon,
    eastDeg: middleLon + halfLon,
    southDeg: Math.max(-90, middleLat - halfLat),
    northDeg: Math.min(90, middleLat + halfLat),
  };
}
