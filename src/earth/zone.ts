/** Time zone of a place, from the full boundaries (timezone-boundary-builder: OpenStreetMap, ODbL). */
import { find, setCache } from 'geo-tz';
import { LRUCache } from 'lru-cache';
import type { Place } from './geodesic.ts';

/** Metres in a degree of latitude, to 1 %. */
const M_PER_DEG = 111_000;

/** Squares of boundaries kept (design): read from disk where a place is near a border, some 0.1 MB each. */
setCache({ store: new LRUCache<string, object>({ max: 100 }) as unknown as Map<string, unknown> });

/**
 * The IANA time zone of a place, on the open sea an `Etc/GMT±h` one (whose sign runs the other way: `Etc/GMT+2`
 * is two hours behind UTC). Zones that have kept the same hours since 1970 go by the name of the largest: Oslo's is
 * `Europe/Berlin`. Longitude may run past ±180°.
 * @example zoneOf({ lonDeg: -30.2, latDeg: 46.1 }) // 'Etc/GMT+2'
 * @throws RangeError where the latitude is not within ±90° or the longitude is not finite.
 */
export function zoneOf(place: Place): string {
  if (!(Math.abs(place.latDeg) <= 90) || !Number.isFinite(place.lonDeg)) {
    throw new RangeError(`no time zone at latitude ${place.latDeg}, longitude ${place.lonDeg}`);
  }
  const lonDeg = place.lonDeg - 360 * Math.round(place.lonDeg / 360);
  const [zone] = find(place.latDeg, lonDeg);
  if (zone === undefined) throw new RangeError(`no time zone at ${place.latDeg}, ${place.lonDeg}`);
  return zone;
}

/** The zones of the places so far away in eight directions, metres: more than one near a border. */
export function zonesAround({ lonDeg, latDeg }: Place, distanceM: number): ReadonlySet<string> {
  const stepDeg = distanceM / M_PER_DEG;
  const eighths = Array.from({ length: 8 }, (_, i) => (i * Math.PI) / 4);
  return new Set(
    eighths.map((angle) =>
      zoneOf({
        lonDeg: lonDeg + (stepDeg * Math.sin(angle)) / Math.max(0.01, Math.cos((latDeg * Math.PI) / 180)),
        latDeg: Math.max(-90, Math.min(90, latDeg + stepDeg * Math.cos(angle))),
      }),
    ),
  );
}
