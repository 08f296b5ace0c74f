import { tradeRuleMin } from '../capability/rules/trade-rule.ts';
import type { Design } from '../design.ts';
import { azimuthDeg, geodesicM, type Place } from '../earth/geodesic.ts';
import type { RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import type { LegGround } from './leg-ground.ts';

/**
 * A way out that the route's file names: where it begins, as the crow flies. What lies between, and how far it is from
 * there to a road, is not known.
 */
export interface StatedWay extends Place {
  readonly name: string;
  readonly notes: string;
  readonly distanceM: number;
  /** From true north; `null`: too near for a bearing. */
  readonly trueDeg: number | null;
}

export interface LineWay {
  readonly direction: 'back' | 'onward';
  readonly distanceM: number;
  /** `null`: heights are missing on it. */
  readonly climbM: number | null;
  readonly overHighPoint: boolean;
  /** The way is longer than its distance. */
  readonly hasGap: boolean;
}

/** Both ways to a road from a place: the nearest that is stated (`null`: none is), and along the line. */
export interface WayToRoad {
  readonly stated: StatedWay | null;
  readonly line: LineWay;
}

type GroundOf = (fromM: number, toM: number) => LegGround;

function nearestStated(route: Route, from: Place, leastStraightM: number): StatedWay | null {
  let nearest: StatedWay | null = null;
  for (const { name, notes, lon: lonDeg, lat: latDeg } of route.attributes.waysOut ?? []) {
    const to = { lonDeg, latDeg };
    const distanceM = geodesicM(from, to);
    if (nearest !== null && distanceM >= nearest.distanceM) continue;
    const trueDeg = distanceM < leastStraightM ? null : azimuthDeg(from, to);
    nearest = { ...to, name: name ?? '', notes: notes ?? '', distanceM, trueDeg };
  }
  return nearest;
}

function alongLine(route: Route, atM: number, groundOf: GroundOf, design: Design): LineWay {
  const lengthM = route.measures.distanceM;
  const before = groundOf(0, atM);
  const behind = groundOf(atM, lengthM);
  const highM = route.high?.distanceM ?? null;
  const back: LineWay = {
    direction: 'back',
    distanceM: atM,
    climbM: before.dropM,
    overHighPoint: highM !== null && highM < atM,
    hasGap: before.hasGap,
  };
  // A line that was drawn to its top alone has no road at its end; on the way up there and back both are the way back.
  const isOnWayUp = route.measures.shape === 'outAndBack' && highM !== null && atM <= highM;
  if (isOnWayUp || route.notes.some(({ code }) => code === 'ends-at-top')) return back;
  const onward: LineWay = {
    direction: 'onward',
    distanceM: lengthM - atM,
    climbM: behind.climbM,
    overHighPoint: highM !== null && highM > atM,
    hasGap: behind.hasGap,
  };
  if (back.hasGap !== onward.hasGap) return back.hasGap ? onward : back;
  const cost = ({ distanceM, climbM }: LineWay): number =>
    back.climbM === null || onward.climbM === null
      ? distanceM
      : tradeRuleMin(distanceM, climbM ?? 0, design.tradeRule);
  return cost(back) <= cost(onward) ? back : onward;
}

/**
 * The ways to a road from a place of a route. Along the line it is the end that is nearer by the trade rule's time, or
 * by length where heights are missing; a way with a gap in it only where both have one.
 *
 * @param groundOf of `legGroundsOf`, the same for all places of a route
 */
export function wayToRoad(
  route: Route,
  from: Pick<RoutePlace, 'lonDeg' | 'latDeg' | 'distanceM'>,
  groundOf: GroundOf,
  design: Design,
): WayToRoad {
  return {
    stated: nearestStated(route, from, design.routeCard.leastStraightM),
    line: alongLine(route, from.distanceM, groundOf, design),
  };
}
