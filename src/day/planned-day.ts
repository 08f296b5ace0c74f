import { cumulativeM } from '../earth/line.ts';
import type { Route } from '../route/describe-route.ts';
import type { CheckpointKind } from './arrivals.ts';
import type { PlannedCheckpoint, PlannedDay } from './planned-against-actual.ts';
import type { Timeline } from './walk-day.ts';

const NAMES: Record<CheckpointKind, string> = {
  trailhead: 'start',
  treelineUp: 'treeline, going up',
  high: 'highest point',
  treelineDown: 'treeline, below it again',
  end: 'end',
};

/** Where the line is after so many metres; its ends beyond them. Gaps between segments have no length. */
function placeAlong(line: Route['line'], distanceM: number): { lonDeg: number; latDeg: number } {
  let startM = 0;
  let last = { lonDeg: 0, latDeg: 0 };
  for (const segment of line) {
    const points = segment.map(([lonDeg, latDeg]) => ({ lonDeg, latDeg }));
    const alongM = cumulativeM(points);
    const next = alongM.findIndex((atM) => startM + atM >= distanceM);
    const to = points[next];
    if (to !== undefined) {
      const from = points[next - 1] ?? to;
      const fromM = alongM[next - 1] ?? 0;
      const stepM = (alongM[next] ?? 0) - fromM;
      const share = stepM > 0 ? (distanceM - startM - fromM) / stepM : 0;
      return {
        lonDeg: from.lonDeg + share * (to.lonDeg - from.lonDeg),
        latDeg: from.latDeg + share * (to.latDeg - from.latDeg),
      };
    }
    startM += alongM.at(-1) ?? 0;
    last = points.at(-1) ?? last;
  }
  return last;
}

/**
 * A planned day as a recording can be compared with it: its checkpoints with their places.
 *
 * @param cutOffMsOf the latest arrival planned at a checkpoint, ms since 1970; `null`: none
 */
export function plannedDay(
  route: Route,
  timeline: Timeline,
  cutOffMsOf: (kind: CheckpointKind, distanceM: number) => number | null = () => null,
): PlannedDay {
  const highM = route.high?.distanceM ?? 0;
  const checkpoints = timeline.checkpoints.map(
    ({ kind, distanceM, at }): PlannedCheckpoint => ({
      name: NAMES[kind],
      kind,
      ...placeAlong(route.line, distanceM),
      distanceM,
      goingUp: kind === 'trailhead' || kind === 'treelineUp' || (kind !== 'end' && distanceM <= highM),
      at,
      cutOffMs: cutOffMsOf(kind, distanceM),
    }),
  );
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
