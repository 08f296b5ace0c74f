import { booleanPointInPolygon } from '@turf/boolean-point-in-polygon';
import { polygon } from '@turf/helpers';
import type { Place } from './geodesic.ts';

/**
 * Whether the place lies in the outline or on its edge; edges are straight in longitude and latitude.
 * `ring` holds `[lonDeg, latDeg]` as GeoJSON does, closed or not, and may run past ±180°; the place is looked
 * for at its longitude and a full turn either side.
 * @throws RangeError on a ring of fewer than three corners.
 */
export function inOutline(place: Place, ring: readonly (readonly [number, number])[]): boolean {
  const [first] = ring;
  const last = ring.at(-1);
  if (first === undefined || last === undefined)
    throw new RangeError('an outline needs at least three corners');
  const closed = first[0] === last[0] && first[1] === last[1];
  const corners = closed ? ring : [...ring, first];
  // turf refuses a ring of fewer than four positions with a plain Error.
  if (corners.length < 4) throw new RangeError('an outline needs at least three corners');
  const outline = polygon([corners.map(([lonDeg, latDeg]) => [lonDeg, latDeg])]);
  return [-360, 0, 360].some((turnDeg) =>
    booleanPointInPolygon([place.lonDeg + turnDeg, place.latDeg], outline),
  );
}
