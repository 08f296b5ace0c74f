import type { RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import type { DayPlan } from './day-plan.ts';
import type { PlannedCheckpoint, PlannedDay } from './planned-against-actual.ts';

/**
 * A planned day as a recording can be compared with it: every checkpoint that the leader carried, with its cut-off time.
 *
 * @param nameOf what a checkpoint is called on the plan
 */
export function plannedDay(
  route: Route,
  { timeline, places }: DayPlan,
  nameOf: (place: RoutePlace) => string,
): PlannedDay {
  const checkpoints = places.map((place): PlannedCheckpoint => {
    const { kind, lonDeg, latDeg, distanceM, goingUp, at, cutOffMs } = place;
    return {
      name: nameOf(place),
      kind,
      lonDeg,
      latDeg,
      distanceM,
      // A way that ends at its top: the end is where the walk stops, not a place passed on the way there.
      goingUp: goingUp && kind !== 'end',
      at,
      cutOffMs,
    };
  });
  const isCrossed = checkpoints.some(({ kind }) => kind === 'treelineUp');
  const isOpen = route.measures.aboveTreelineM === null;
  return {
    date: timeline.date,
    zone: timeline.zone,
    startMs: timeline.startMs,
    deadlineMs: timeline.storm.deadline.atMs,
    treeline: isCrossed ? 'crossed' : isOpen ? 'notKnown' : 'notReached',
    movingMin: timeline.movingMin,
    // The middle of the day is its moving time, the stops by the hour and the meal.
    standingMin: Math.max(0, timeline.dayMin.p50 - timeline.movingMin),
    checkpoints,
  };
}
