import type { MapFrame } from '../terrain/lattice.ts';
import { localScale } from '../terrain/local-scale.ts';
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

/** The longitude that is a whole number of turns from `lonDeg` and nearest to `nearDeg`. */
export const turnedTo = (lonDeg: number, nearDeg: number): number =>
  lonDeg + 360 * Math.round((nearDeg - lonDeg) / 360);

/** The frame of a map of routes, north up, with room around them; `null`: no route has a point. */
export function mapFrame(routes: Lines): MapFrame | null {
  const first = routes.flatMap(({ line }) => line.flat())[0];
  if (first === undefined) return null;
  let [west, east, south, north] = [first[0], first[0], first[1], first[1]];
  for (const { line } of routes) {
    for (const [lonDeg, latDeg] of line.flat()) {
      const turned = turnedTo(lonDeg, first[0]);
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
