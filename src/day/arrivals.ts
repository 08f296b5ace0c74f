import { uphillFactor } from '../capability/altitude.ts';
import { type PaceModel, predictMoving, quantileMin, type TimeEstimate } from '../capability/pace-model.ts';
import { effectiveQuantities, NO_WALK, plus, type Slowing, surfaceOf } from '../capability/quantities.ts';
import type { Design } from '../design.ts';
import type { Route } from '../route/describe-route.ts';

export type CheckpointKind = 'trailhead' | 'treelineUp' | 'high' | 'treelineDown' | 'end';

export interface Arrival {
  readonly kind: CheckpointKind;
  readonly distanceM: number;
  readonly elevationM: number | null;
  /** Minutes after the start, stops and meals included. */
  readonly after: TimeEstimate;
}

const Z90 = 1.645; // the gain band is read as a 90 % interval

function checkpointsOf(
  route: Route,
): { kind: CheckpointKind; distanceM: number; elevationM: number | null }[] {
  const { pieces, high, measures, treeline } = route;
  const above = pieces.filter((piece) => piece.aboveTreeline === true);
  const first = above[0];
  const last = above.at(-1);
  const length = measures.distanceM;
  const endsAbove = last !== undefined && last.toM >= (pieces.at(-1)?.toM ?? length);
  return [
    { kind: 'trailhead' as const, distanceM: 0, elevationM: route.trailhead.elevationM },
    ...(first === undefined
      ? []
      : [{ kind: 'treelineUp' as const, distanceM: first.fromM, elevationM: treeline.treelineM }]),
    ...(high === null
      ? []
      : [{ kind: 'high' as const, distanceM: high.distanceM, elevationM: high.elevationM }]),
    ...(last === undefined
      ? []
      : [
          {
            kind: 'treelineDown' as const,
            distanceM: endsAbove ? length : last.toM,
            elevationM: endsAbove ? route.end.elevationM : treeline.treelineM,
          },
        ]),
    { kind: 'end' as const, distanceM: length, elevationM: route.end.elevationM },
  ];
}

/** Moving time from the start to each distance along the route. */
function movingTo(route: Route, pace: PaceModel, design: Design): (toM: number) => TimeEstimate {
  const slowing: Slowing = {
    attributes: route.attributes,
    trainingElevationM: pace.trainingElevationM,
    surfaces: design.pace.surface,
  };
  const gain = route.measures.gainM;
  const totalClimbM = route.pieces.reduce((sum, piece) => sum + piece.climbM, 0);
  const climbDoubt = gain === null || totalClimbM === 0 ? 0 : (gain.high - gain.low) / 2 / Z90 / totalClimbM;

  return (toM) => {
    let walk = NO_WALK;
    let climbM = 0;
    let doubtM = 0;
    let lengthM = 0;
    for (const piece of route.pieces) {
      if (piece.fromM >= toM) break;
      const share = piece.toM <= toM ? 1 : (toM - piece.fromM) / (piece.toM - piece.fromM);
      const whole = effectiveQuantities(piece, slowing);
      walk = plus(walk, {
        upKm: whole.upKm * share,
        upM: whole.upM * share,
        downKm: whole.downKm * share,
        downM: whole.downM * share,
      });
      climbM += piece.climbM * share;
      lengthM += piece.horizontalM * share;
      doubtM += design.pace.surface[surfaceOf(piece, route.attributes)].doubt * piece.horizontalM * share;
    }
    return predictMoving(pace, walk, {
      groundDoubt: lengthM > 0 ? doubtM / lengthM : 0,
      climbDoubtM: climbM * climbDoubt,
    });
  };
}

/** How much longer a route takes than the same walk on trail at the height of the training, as factors. */
export interface SlowingFactors {
  /** Rough ground, talus or snow; over the whole way. */
  readonly ground: number;
  /** Thinner air; over the climbs alone. */
  readonly altitude: number;
}

export function slowingOf(route: Route, pace: PaceModel, design: Design): SlowingFactors {
  let lengthM = 0;
  let slowedM = 0;
  let climbM = 0;
  let thinM = 0;
  for (const piece of route.pieces) {
    lengthM += piece.horizontalM;
    slowedM += piece.horizontalM * design.pace.surface[surfaceOf(piece, route.attributes)].time;
    climbM += piece.climbM;
    thinM += piece.climbM * uphillFactor(piece.elevationM, pace.trainingElevationM);
  }
  return { ground: lengthM > 0 ? slowedM / lengthM : 1, altitude: climbM > 0 ? thinM / climbM : 1 };
}

/** Middle moving time of the whole route, minutes. */
export function movingMinOf(route: Route, pace: PaceModel, design: Design): number {
  return movingTo(route, pace, design)(Number.POSITIVE_INFINITY).meanMin;
}

/**
 * How long after the start the group is at each checkpoint: the pieces walked so far, slowed by height and ground,
 * timed by the group's pace, plus stops by the hour and a meal at the high point of a long day.
 */
export function arrivalsOf(route: Route, pace: PaceModel, design: Design): Arrival[] {
  const estimate = movingTo(route, pace, design);
  const whole = estimate(Number.POSITIVE_INFINITY);
  const eats = whole.meanMin >= design.day.mealFromMovingMin;
  const stretch = 1 + pace.stopsMinPerHour / 60;
  return checkpointsOf(route).map((checkpoint) => {
    const moving = estimate(checkpoint.distanceM);
    const meal = eats && checkpoint.kind !== 'high' && checkpoint.distanceM > (route.high?.distanceM ?? 0);
    return {
      ...checkpoint,
      after: {
        meanMin: moving.meanMin * stretch + (meal ? design.day.mealMin : 0),
        scaleMin: moving.scaleMin * stretch,
        degreesOfFreedom: moving.degreesOfFreedom,
      },
    };
  });
}

/** Arrival minutes at 10, 50 and 90 %. */
export function spreadOf(after: TimeEstimate): { p10: number; p50: number; p90: number } {
  return { p10: quantileMin(after, 0.1), p50: quantileMin(after, 0.5), p90: quantileMin(after, 0.9) };
}
