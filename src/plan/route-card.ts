import { at } from '../array.ts';
import type { Surface } from '../capability/quantities.ts';
import type { Design } from '../design.ts';
import { type Declination, declination, magneticBearingDeg } from '../earth/declination.ts';
import { azimuthDeg, geodesicM } from '../earth/geodesic.ts';
import { type GridReference, gridReference } from '../earth/grid-reference.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import type { RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import type { SteepGround } from '../route/steep-ground.ts';
import { type LegGround, legGroundsOf } from './leg-ground.ts';
import { type WayToRoad, wayToRoad } from './way-to-road.ts';

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
function slideHazards(ground: SteepGround | null, fromM: number, toM: number): LegHazard[] {
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

/** Minutes that half of such days, and nine in ten, take at most. */
interface CardMinutes {
  readonly p50: number;
  readonly p90: number;
}

/** A checkpoint with when the group is there, minutes after the start; `null`: not known. */
export type TimedPlace = RoutePlace & { readonly afterMin: CardMinutes | null };

export interface CardPlace extends TimedPlace {
  /** `null` near the poles. */
  readonly grid: GridReference | null;
  readonly wayOut: WayToRoad;
}

/** From one checkpoint to the next. Metres; `null` is "not known". */
export interface CardLeg {
  readonly from: CardPlace;
  readonly to: CardPlace;
  /** At `from` straight towards `to`, degrees from true north; `null`: they lie too near each other for a bearing. */
  readonly trueDeg: number | null;
  /** The same as a compass shows it; `null` also where no model holds, or compasses are of no use. */
  readonly magneticDeg: number | null;
  readonly straightM: number;
  readonly alongM: number;
  readonly climbM: number | null;
  readonly dropM: number | null;
  /**
   * What the leg adds to the day so far, of a usual and of a slow day, stops included: the legs add up to the day, so
   * the second is less than a single slow leg can take.
   */
  readonly minutes: CardMinutes | null;
  /** The line winds: follow the path, not the bearing. */
  readonly isWinding: boolean;
  readonly hazards: readonly LegHazard[];
}

/** The navigator's leg table. */
export interface RouteCard {
  readonly legs: readonly CardLeg[];
  /** At the trailhead; `null`: no model holds on that date. */
  readonly declination: Declination | null;
  /** As stated; `null`: not stated. */
  readonly rockClass: string | null;
  /** Whether the line has gaps: the route is longer, and climbs more, than its legs say. */
  readonly hasGaps: boolean;
}

/** Checkpoints so near each other along the line are one on the card, metres. */
const SAME_PLACE_M = 1;

/** Of checkpoints at one place the one that navigators know it by. */
function rank({ kind }: RoutePlace): number {
  if (kind === 'trailhead' || kind === 'end') return 0;
  return kind === 'high' ? 1 : 2;
}

function distinct(places: readonly TimedPlace[]): TimedPlace[] {
  const kept: TimedPlace[] = [];
  for (const place of places) {
    const last = kept.at(-1);
    if (last === undefined || place.distanceM - last.distanceM >= SAME_PLACE_M) kept.push(place);
    else if (rank(place) < rank(last)) kept[kept.length - 1] = place;
  }
  return kept;
}

function minutesBetween(from: CardMinutes | null, to: CardMinutes | null): CardMinutes | null {
  if (from === null || to === null) return null;
  return { p50: Math.max(0, to.p50 - from.p50), p90: Math.max(0, to.p90 - from.p90) };
}

/**
 * The route card: a leg from each checkpoint to the next, with bearing, lengths, climb, time, hazards and the way out.
 * Pure; what is not known is `null`.
 *
 * @param places in the order they are walked, as `checkpointsOf` gives them; two at one place become one
 * @param date of the walk, `YYYY-MM-DD`
 * @throws RangeError on an unreal date, or places that go backwards along the line.
 */
export function routeCard(
  route: Route,
  places: readonly TimedPlace[],
  date: string,
  design: Design,
): RouteCard {
  places.forEach((place, i) => {
    const beforeM = i === 0 ? 0 : at(places, i - 1).distanceM;
    if (place.distanceM < beforeM) throw new RangeError('checkpoints out of order');
  });
  const { windingRatio, leastStraightM } = design.routeCard;
  const groundOf = legGroundsOf(route, design);
  const cardPlaces = distinct(places).map(
    (place): CardPlace => ({
      ...place,
      grid: gridReference(place),
      wayOut: wayToRoad(route, place, groundOf, design),
    }),
  );
  let hasGaps = false;
  const legs = cardPlaces.slice(1).map((to, i): CardLeg => {
    const from = at(cardPlaces, i);
    const ground = groundOf(from.distanceM, to.distanceM);
    hasGaps ||= ground.hasGap;
    const straightM = geodesicM(from, to);
    const alongM = to.distanceM - from.distanceM;
    const trueDeg = straightM < leastStraightM ? null : azimuthDeg(from, to);
    const field = declination(from, from.elevationM, date);
    return {
      from,
      to,
      trueDeg,
      magneticDeg:
        trueDeg === null || field === null || field.compass === 'useless'
          ? null
          : magneticBearingDeg(trueDeg, field.declinationDeg),
      straightM,
      alongM,
      climbM: ground.climbM,
      dropM: ground.dropM,
      minutes: minutesBetween(from.afterMin, to.afterMin),
      isWinding: alongM > windingRatio * straightM,
      hazards: [
        ...hazardsOf(ground, to, route.attributes, design.routeCard),
        ...slideHazards(route.measures.steepGround ?? null, from.distanceM, to.distanceM),
      ],
    };
  });
  return {
    legs,
    declination: declination(route.trailhead, route.trailhead.elevationM, date),
    rockClass: route.attributes.rockClass ?? null,
    hasGaps,
  };
}
