import type { Surface } from '../capability/quantities.ts';
import type { Design } from '../design.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import type { RoutePlace } from '../route/checkpoints.ts';
import type { SteepGround } from '../route/steep-ground.ts';
import type { LegGround } from './leg-ground.ts';

/** Something known, or not known, of a leg that a leader is to watch for. */
export type LegHazard =
  | { readonly kind: 'gap' }
  | { readonly kind: 'heightsMissing' }
  | { readonly kind: 'aboveTreeline' | 'maybeAboveTreeline'; readonly lengthM: number }
  /** Below 0 going down. */
  | { readonly kind: 'steep'; readonly ratio: number }
  | { readonly kind: 'surface'; readonly surface: Exclude<Surface, 'trail'>; readonly isStated: boolean }
  /** Ground on which snow slides, on, beside or above the way: its length in the leg, the steepest of its stretches. */
  | { readonly kind: 'slideGround'; readonly lengthM: number; readonly steepestDeg: number }
  | { readonly kind: 'summitBlock'; readonly rockClass: string };

/**
 * What to watch for on a leg, what is missing first: heights or line, ground above treeline, a steep grade, the
 * surface, the block under the top. Where the route's own class is met is not known: that is said once for the card.
 */
export function hazardsOf(
  ground: LegGround,
  to: Pick<RoutePlace, 'kind'>,
  attributes: RouteAttributes,
  design: Design['routeCard'],
): LegHazard[] {
  const { aboveTreelineM, maybeAboveTreelineM, steepestRatio, surface } = ground;
  const hazards: LegHazard[] = [];
  if (ground.hasGap) hazards.push({ kind: 'gap' });
  else if (ground.climbM === null) hazards.push({ kind: 'heightsMissing' });
  if (aboveTreelineM > 0) hazards.push({ kind: 'aboveTreeline', lengthM: aboveTreelineM });
  if (maybeAboveTreelineM > 0) hazards.push({ kind: 'maybeAboveTreeline', lengthM: maybeAboveTreelineM });
  if (steepestRatio !== null && Math.abs(steepestRatio) > design.steepRatio) {
    hazards.push({ kind: 'steep', ratio: steepestRatio });
  }
  if (surface !== 'trail') {
    hazards.push({ kind: 'surface', surface, isStated: attributes.surface != null });
  }
  const block = attributes.rockClass?.split('s')[1];
  if (block !== undefined && to.kind === 'high') hazards.push({ kind: 'summitBlock', rockClass: block });
  return hazards;
}

/** The ground of a leg on which snow slides, if the tiles show any. */
export function slideHazards(ground: SteepGround | null, fromM: number, toM: number): LegHazard[] {
  let lengthM = 0;
  let steepestDeg = 0;
  for (const stretch of ground?.stretches ?? []) {
    const insideM = Math.min(toM, stretch.toM) - Math.max(fromM, stretch.fromM);
    if (insideM <= 0) continue;
    lengthM += insideM;
    steepestDeg = Math.max(steepestDeg, stretch.onDeg ?? 0, stretch.besideDeg ?? 0, stretch.aboveDeg ?? 0);
  }
  return lengthM > 0 ? [{ kind: 'slideGround', lengthM, steepestDeg }] : [];
}
