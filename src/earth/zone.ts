import tzLookup from '@photostructure/tz-lookup';
import { checkPlace, nearestTurnDeg, type Place } from './geodesic.ts';

/**
 * The IANA time zone of a place, on the open sea an `Etc/GMT±h` one (whose sign runs the other way: `Etc/GMT+2`
 * is two hours behind UTC). Longitude may run past ±180°.
 * @example zoneOf({ lonDeg: -30.2, latDeg: 46.1 }) // 'Etc/GMT+2'
 * @throws RangeError where the latitude is not within ±90° or the longitude is not finite.
 */
export function zoneOf(place: Place): string {
  checkPlace(place, 'time zone');
  // The table refuses anything outside ±180°.
  return tzLookup(place.latDeg, nearestTurnDeg(place.lonDeg, 0));
}
