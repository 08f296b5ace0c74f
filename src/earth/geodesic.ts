import geodesic from 'geographiclib-geodesic';

// [Karney2013] Algorithms for geodesics, J. Geodesy 87:43-55; WGS 84; accurate to 15 nm.
const wgs84 = geodesic.Geodesic.WGS84;

export interface Place {
  readonly lonDeg: number;
  readonly latDeg: number;
}

/** A box in degrees. `eastDeg` runs past 180 where it lies across the antimeridian; it is never below `westDeg`. */
export interface BoundingBox {
  readonly westDeg: number;
  readonly southDeg: number;
  readonly eastDeg: number;
  readonly northDeg: number;
}

/** The longitude that is a whole number of turns from `lonDeg` and nearest to `nearDeg`. */
export const nearestTurnDeg = (lonDeg: number, nearDeg: number): number =>
  lonDeg + 360 * Math.round((nearDeg - lonDeg) / 360);

/** @throws RangeError unless the latitude is within ±90° and the longitude finite; it says that there is no `what` there. */
export function checkPlace({ lonDeg, latDeg }: Place, what: string): void {
  if (!(Math.abs(latDeg) <= 90) || !Number.isFinite(lonDeg))
    throw new RangeError(`no ${what} at latitude ${latDeg}, longitude ${lonDeg}`);
}

function finite(value: number | undefined, what: string): number {
  if (value === undefined || !Number.isFinite(value)) throw new RangeError(`geodesic gave no ${what}`);
  return value;
}

/**
 * Shortest distance between two places on the WGS 84 ellipsoid, metres, heights ignored.
 * @example geodesicM({ lonDeg: 0, latDeg: 0 }, { lonDeg: 1, latDeg: 0 }) // 111319.491
 */
export function geodesicM(from: Place, to: Place): number {
  const { s12 } = wgs84.Inverse(from.latDeg, from.lonDeg, to.latDeg, to.lonDeg, geodesic.Geodesic.DISTANCE);
  return finite(s12, 'distance');
}

/** Bearing at `from` towards `to`, degrees clockwise from true north, 0 to 360. */
export function azimuthDeg(from: Place, to: Place): number {
  const { azi1 } = wgs84.Inverse(from.latDeg, from.lonDeg, to.latDeg, to.lonDeg, geodesic.Geodesic.AZIMUTH);
  return (finite(azi1, 'bearing') + 360) % 360;
}

/** The place reached from `from` after `distanceM` on the bearing `towardsDeg`; longitude continues from `from`'s, never wrapped. */
export function destination(from: Place, towardsDeg: number, distanceM: number): Place {
  const mask = geodesic.Geodesic.LATITUDE | geodesic.Geodesic.LONGITUDE | geodesic.Geodesic.LONG_UNROLL;
  const { lat2, lon2 } = wgs84.Direct(from.latDeg, from.lonDeg, towardsDeg, distanceM, mask);
  return { lonDeg: finite(lon2, 'longitude'), latDeg: finite(lat2, 'latitude') };
}
