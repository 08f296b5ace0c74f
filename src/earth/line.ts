import { type BoundingBox, geodesicM, nearestTurnDeg, type Place } from './geodesic.ts';

/**
 * Distance from the first point to each point along the line, metres on the WGS 84 ellipsoid, heights ignored.
 * Starts with 0 and has one entry a point; no points give no entries.
 * @example cumulativeM([{ lonDeg: 0, latDeg: 0 }, { lonDeg: 1, latDeg: 0 }]) // [0, 111319.491]
 */
export function cumulativeM(points: readonly Place[]): number[] {
  let soFarM = 0;
  let before: Place | null = null;
  return points.map((point) => {
    if (before !== null) soFarM += geodesicM(before, point);
    before = point;
    return soFarM;
  });
}

/** Length of the line, metres on the WGS 84 ellipsoid, heights ignored; 0 for fewer than two points. */
export function lineLengthM(points: readonly Place[]): number {
  return cumulativeM(points).at(-1) ?? 0;
}

/**
 * The smallest box that holds the line, degrees. Each point is taken the short way round from the one before,
 * so a line across ±180° gets a narrow box that runs past 180 and not one round the world.
 * @throws RangeError on a line without points.
 */
export function boundingBox(points: readonly Place[]): BoundingBox {
  const first = points[0];
  if (first === undefined) throw new RangeError('a line without points has no bounding box');
  let { lonDeg } = first;
  let [westDeg, eastDeg, southDeg, northDeg] = [lonDeg, lonDeg, first.latDeg, first.latDeg];
  for (const point of points) {
    lonDeg = nearestTurnDeg(point.lonDeg, lonDeg);
    westDeg = Math.min(westDeg, lonDeg);
    eastDeg = Math.max(eastDeg, lonDeg);
    southDeg = Math.min(southDeg, point.latDeg);
    northDeg = Math.max(northDeg, point.latDeg);
  }
  return { westDeg, southDeg, eastDeg, northDeg };
}
