/** Map references of the military grid. The only file that knows mgrs. */
import mgrs from 'mgrs';
import { checkPlace, type Place } from './geodesic.ts';

/** A square of the grid, named by its south-west corner: digits are cut off, never rounded, as the grid wants it. */
export interface GridReference {
  /** For print and for reading out, `25T FM 12345 67890`. */
  readonly text: string;
  /** The same without spaces, for typing into a device. */
  readonly compact: string;
  /** Side of the square. */
  readonly precisionM: 1 | 10;
}

const DIGITS = { 1: 5, 10: 4 } as const;
const PARTS = /^(\d{1,2}[C-X])([A-Z]{2})(\d+)$/;

/**
 * Military Grid Reference System (WGS 84) of a place, to 1 m or 10 m; `null` from 84° N and beyond 80° S, where
 * the polar grid would be wanted. Zones are written with two digits. Longitude may run past ±180°.
 * Computed by the package mgrs to a millimetre: 1 m off in 79 of 200,000 places.
 * @example gridReference({ lonDeg: -30.2, latDeg: 46.1 })?.text // '25T GM 16416 08970'
 * @throws RangeError where the latitude is not within ±90° or the longitude is not finite.
 */
export function gridReference(place: Place, precisionM: 1 | 10 = 1): GridReference | null {
  const { lonDeg, latDeg } = place;
  checkPlace(place, 'grid reference');
  // The package puts 84° N itself still in band X; the polar grid begins there.
  if (latDeg < -80 || latDeg >= 84) return null;
  // It refuses anything outside ±180°, and puts 180° in zone 60 where the grid has zone 1.
  const wrappedDeg = lonDeg - 360 * Math.floor((lonDeg + 180) / 360);
  const digits = DIGITS[precisionM];
  const found = PARTS.exec(mgrs.forward([wrappedDeg, latDeg], digits));
  const [, zone, square, numbers] = found ?? [];
  if (zone === undefined || square === undefined || numbers?.length !== 2 * digits) {
    throw new RangeError(`unreadable grid reference at latitude ${latDeg}, longitude ${lonDeg}`);
  }
  const parts = [zone.padStart(3, '0'), square, numbers.slice(0, digits), numbers.slice(digits)];
  return { text: parts.join(' '), compact: parts.join(''), precisionM };
}
