import { weightedMean } from '../array.ts';
import { uphillFactor } from '../capability/altitude.ts';
import type { PaceModel, TimeEstimate } from '../capability/pace-model.ts';
import { surfacesOf } from '../capability/quantities.ts';
import type { Design } from '../design.ts';
import { type MainPlace, mainPlacesOf } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { mealMinOf, type Walking, walkingOf, withStops } from './walking.ts';

export interface Arrival extends MainPlace {
  /** Minutes after the start, stops and meals included. */
  readonly after: TimeEstimate;
}

/** How much longer a route takes than the same walk on trail at the height of the training, as factors. */
export interface SlowingFactors {
  /** Rough ground, talus or snow; over the whole way. */
  readonly ground: number;
  /** Thinner air; over the climbs alone. */
  readonly altitude: number;
}

export function slowingOf({ pieces, attributes }: Route, pace: PaceModel, design: Design): SlowingFactors {
  const surfaceOf = surfacesOf(attributes);
  const ground = pieces.map(
    (piece) => [design.pace.surface[surfaceOf(piece)].time, piece.horizontalM] as const,
  );
  const altitude = pieces.map(
    ({ elevationM, climbM }) => [uphillFactor(elevationM, pace.trainingElevationM), climbM] as const,
  );
  return { ground: weightedMean(ground) ?? 1, altitude: weightedMean(altitude) ?? 1 };
}

/**
 * How long after the start the group is at each checkpoint: the pieces walked so far, slowed by height and ground,
 * timed by the group's pace, plus stops by the hour and a meal at the high point of a long day.
 */
export function arrivalsAt<P extends { readonly kind: string; readonly distanceM: number }>(
  checkpoints: readonly P[],
  route: Route,
  pace: PaceModel,
  design: Design,
  { onward, timeOf } = walkingOf(route, pace, design),
): (P & { readonly after: TimeEstimate })[] {
  const mealMin = mealMinOf(timeOf(onward(0, Number.POSITIVE_INFINITY)).meanMin, design.day);
  const highM = route.high?.distanceM ?? 0;
  return checkpoints.map((checkpoint) => {
    const fed = checkpoint.kind !== 'high' && checkpoint.distanceM > highM;
    return {
      ...checkpoint,
      after: withStops(timeOf(onward(0, checkpoint.distanceM)), pace, fed ? mealMin : 0),
    };
  });
}

export const arrivalsOf = (route: Route, pace: PaceModel, design: Design, walking?: Walking): Arrival[] =>
  arrivalsAt(mainPlacesOf(route), route, pace, design, walking);
