import type { Design } from '../design.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import { rockClassValue } from '../ingest/rock-class.ts';
import type { Piece } from '../route/pieces.ts';
import { closed, number, type Shaped } from '../schema.ts';
import { uphillFactor } from './altitude.ts';

/**
 * The four quantities that the pace model times: kilometres and metres climbed on climbing and level ground,
 * kilometres and metres dropped on descending ground.
 */
export const quantitiesSchema = closed({ upKm: number, upM: number, downKm: number, downM: number });

export type Quantities = Shaped<typeof quantitiesSchema>;

export const NO_WALK: Quantities = { upKm: 0, upM: 0, downKm: 0, downM: 0 };

export function plus(a: Quantities, b: Quantities): Quantities {
  return { upKm: a.upKm + b.upKm, upM: a.upM + b.upM, downKm: a.downKm + b.downKm, downM: a.downM + b.downM };
}

export const scaled = ({ upKm, upM, downKm, downM }: Quantities, by: number): Quantities => {
  return { upKm: upKm * by, upM: upM * by, downKm: downKm * by, downM: downM * by };
};

export type Surface = keyof Design['pace']['surface'];

/**
 * The ground of each piece of a route: as stated for the route; not stated, it is trail for class 1, and above class 1
 * it counts as rough wherever the piece lies, or may lie, above treeline.
 */
export function surfacesOf({
  surface,
  rockClass,
}: Pick<RouteAttributes, 'surface' | 'rockClass'>): (piece: Pick<Piece, 'aboveTreeline'>) => Surface {
  if (surface != null) return () => surface;
  if (rockClass == null || rockClassValue(rockClass) <= 1) return () => 'trail';
  return ({ aboveTreeline }) => (aboveTreeline === false ? 'trail' : 'rough');
}

/** A piece as walked, nothing added for height or ground. */
export function plainQuantities(piece: Piece): Quantities {
  return piece.descending
    ? { upKm: 0, upM: 0, downKm: piece.horizontalM / 1000, downM: piece.dropM }
    : { upKm: piece.horizontalM / 1000, upM: piece.climbM, downKm: 0, downM: 0 };
}

export interface Slowing {
  readonly surfaceOf: ReturnType<typeof surfacesOf>;
  /** Mean height of the climbs on which the pace was learned, metres; uphill above it is slower. */
  readonly trainingElevationM: number;
  readonly surfaces: Design['pace']['surface'];
}

/**
 * A piece in trail-equivalent quantities: rough ground counts for more of everything, climbing above the height of
 * the training for more of the climb. Times are then linear in the four quantities.
 */
export function effectiveQuantities(piece: Piece, slowing: Slowing): Quantities {
  const ground = slowing.surfaces[slowing.surfaceOf(piece)].time;
  const factor = piece.descending
    ? ground
    : ground * uphillFactor(piece.elevationM, slowing.trainingElevationM);
  return scaled(plainQuantities(piece), factor);
}

export function totalQuantities(pieces: readonly Piece[]): Quantities {
  return pieces.map(plainQuantities).reduce(plus, NO_WALK);
}
