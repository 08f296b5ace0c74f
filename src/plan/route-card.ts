import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { type Declination, declination, magneticBearingDeg } from '../earth/declination.ts';
import { azimuthDeg, geodesicM } from '../earth/geodesic.ts';
import { type GridReference, gridReference } from '../earth/grid-reference.ts';
import type { RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { legGroundsOf } from './leg-ground.ts';
import { hazardsOf, type LegHazard, slideHazards } from './leg-hazards.ts';
import { type WayToRoad, wayToRoad } from './way-to-road.ts';

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
