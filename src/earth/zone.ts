import tzLookup from '@photostructure/tz-lookup';
import type { Place } from './geodesic.ts';

/**
 * The IANA time zone of a place, on the open sea an `Etc/GMT±h` one (whose sign runs the other way: `Etc/GMT+2`
 * is two hours behind UTC). Longitude may run past ±180°.
 * @example zoneOf({ lonDeg: -30.2, latDeg: 46.1 }) // 'Etc/GMT+2'
 * @throws RangeError where the latitude is not within ±90° or the longitude is not finite.
 */
export function zoneOf(place: Place): string {
  if (!(Math.abs(place.latDeg) <= 90) || !Number.isFinite(place.lonDeg)) {
    throw new RangeError(`no time zone at latitude ${place.latDeg}, longitude ${place.lonDeg}`);
  }
  // The table refuses anything outside ±180°.
  const lonDeg = place.lonDeg - 360 * Math.round(place.lonDeg / 360);
  return tzLookup(place.latDeg, lonDeg);
}
