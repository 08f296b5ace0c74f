import { square } from './square.ts';

/**
 * The ground of the demo: a box of open Atlantic, its postings one second of arc apart,
 * and a plane in metres over it (x east of the west edge, y south of the north edge).
 */
export const WEST_DEG = -30.42;
export const NORTH_DEG = 46.21;
export const STEPS_PER_DEG = 3600;
export const COLUMNS = 1585;
export const ROWS = 793;

// Metres in a degree at 46.1 N on WGS 84 (series in the latitude, from memory; right to 0.1 %).
// One value for the whole box: the lines are drawn on this plane, then kept as degrees.
const M_PER_DEG_LAT = 111_153;
const M_PER_DEG_LON = 77_324;

export const COLUMN_M = M_PER_DEG_LON / STEPS_PER_DEG;
export const ROW_M = M_PER_DEG_LAT / STEPS_PER_DEG;

/** A spot on the plane, metres. */
export interface Spot {
  readonly xM: number;
  readonly yM: number;
}

/** Longitude and latitude of a spot, degrees. */
export function degreesOf(spot: Spot): { readonly lonDeg: number; readonly latDeg: number } {
  return { lonDeg: WEST_DEG + spot.xM / M_PER_DEG_LON, latDeg: NORTH_DEG - spot.yM / M_PER_DEG_LAT };
}

/** Distance on the plane, metres. */
export function apartM(a: Spot, b: Spot): number {
  return Math.sqrt(square(a.xM - b.xM) + square(a.yM - b.yM));
}
