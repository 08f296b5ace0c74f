import { geodesicM, type Place } from './geodesic.ts';

/** A box in degrees. `eastDeg` runs past 180 where the line crosses the antimeridian; it is never below `westDeg`. */
export interface BoundingBox {
  readonly westDeg: number;
  readonly southDeg: number;
  readonly eastDeg: number;
  readonly northDeg: number;
}

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
  let lonDeg = first.lonDeg;
  let box = { westDeg: lonDeg, southDeg: first.latDeg, eastDeg: lonDeg, northDeg: first.latDeg };
  for (const point of points) {
    lonDeg = point.lonDeg - 360 * Math.round((point.lonDeg - lonDeg) / 360);
    box = {
      westDeg: Math.min(box.westDeg, lonDeg),
      southDeg: Math.min(box.southDeg, point.latDeg),
      eastDeg: Math.max(box.eastDeg, lonDeg),
      northDeg: Math.max(box.northDeg, point.latDeg),
    };
  }
  return box;
}
