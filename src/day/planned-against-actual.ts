import { at, last } from '../array.ts';
import { type Line, lastMs } from '../capability/recording/line.ts';
import type { Design } from '../design.ts';
import type { Place } from '../earth/geodesic.ts';
import { localScale } from '../earth/local-scale.ts';
import type { Track } from '../ingest/track.ts';
import type { RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { boolean, closed, list, number, numberOrNull, oneOf, orNull, type Shaped, text } from '../schema.ts';
import { MS_PER_MIN } from '../units.ts';
import type { DayPlace, DayPlan } from './day-plan.ts';

/** A place of the plan. Kinds but the five main ones are places to pass; `goingUp`: before the high point, or it. */
type PlannedCheckpoint = Pick<
  DayPlace,
  'name' | 'lonDeg' | 'latDeg' | 'distanceM' | 'goingUp' | 'at' | 'cutOffMs'
> & { readonly kind: string };

export interface PlannedDay {
  readonly date: string;
  readonly zone: string;
  readonly startMs: number;
  readonly deadlineMs: number;
  readonly treeline: 'crossed' | 'notReached' | 'notKnown';
  readonly movingMin: number;
  /** Stops and the meal, minutes. */
  readonly standingMin: number;
  /** In the order of the walk. */
  readonly checkpoints: readonly PlannedCheckpoint[];
}

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
  const { date, zone, startMs, movingMin, storm, dayMin } = timeline;
  const isCrossed = places.some(({ kind }) => kind === 'treelineUp');
  const isOpen = route.measures.aboveTreelineM === null;
  return {
    ...{ date, zone, startMs, movingMin, deadlineMs: storm.deadline.atMs },
    treeline: isCrossed ? 'crossed' : isOpen ? 'notKnown' : 'notReached',
    // The middle of the day is its moving time, the stops by the hour and the meal.
    standingMin: Math.max(0, dayMin.p50 - movingMin),
    // A way that ends at its top: the end is where the walk stops, not a place passed on the way there.
    checkpoints: places.map((place) => {
      return { ...place, name: nameOf(place), goingUp: place.goingUp && place.kind !== 'end' };
    }),
  };
}

/** A checkpoint as it was passed: no place in it, so that it may be kept where a track may not. */
const passedCheckpoint = closed({
  name: text,
  kind: text,
  distanceM: number,
  goingUp: boolean,
  planned: closed({ p10Ms: number, p50Ms: number, p90Ms: number }),
  /** `null`: not passed, or not recorded. */
  passedMs: numberOrNull,
  /** After the middle of the plan, minutes; negative is early. */
  lateMin: numberOrNull,
  /** The same with both days begun at the start: what the pace alone did. */
  lateSinceStartMin: numberOrNull,
  /** From the 10 to the 90 % of the plan, by the clock; `null` for the start, which is no prediction. */
  isInside: orNull(boolean),
  cutOffMs: numberOrNull,
  isByCutOff: orNull(boolean),
});

const duration = closed({ plannedMin: number, actualMin: numberOrNull });

export const plannedAgainstActualSchema = closed({
  date: text,
  zone: text,
  /** Whether the recording passes any checkpoint; where not, it may be of another place. */
  isOnRoute: boolean,
  start: closed({ plannedMs: number, actualMs: numberOrNull, lateMin: numberOrNull }),
  checkpoints: list(passedCheckpoint),
  /** The farthest checkpoint of the way up that was passed. */
  highestReached: orNull(closed({ name: text, kind: text })),
  /** `null`: not known, such as where the recording ends or has a hole on the way up. */
  turnedBack: orNull(boolean),
  /** When the group was nearest to the high point that it did not reach. */
  turnedMs: numberOrNull,
  belowTreeline: closed({
    deadlineMs: number,
    passedMs: numberOrNull,
    /** What became of the deadline. `neverAbove`: no ground above treeline was reached; `notKnown`: the recording does not say. */
    outcome: oneOf(['inTime', 'late', 'neverAbove', 'notKnown']),
  }),
  /** Whether high point and end were passed: only then the whole times below are of the same walk. */
  isWholeRoute: boolean,
  moving: duration,
  standing: duration,
});

export type PassedCheckpoint = Shaped<typeof passedCheckpoint>;
export type PlannedAgainstActual = Shaped<typeof plannedAgainstActualSchema>;
export type DeadlineOutcome = PlannedAgainstActual['belowTreeline']['outcome'];

interface Sample {
  readonly timeMs: number;
  readonly awayM: number;
}

interface Visit {
  readonly firstMs: number;
  readonly nearestMs: number;
  readonly lastMs: number;
  readonly nearestM: number;
  /** Whether the nearest approach is the first or last of what was looked at: the group may not have gone by. */
  readonly isAtEdge: boolean;
}

/** Distances on the plane from a place: good to 0.1 % over a day's walk. */
function planeFrom(place: Place): (to: Place) => { xM: number; yM: number } {
  const scale = localScale(place.latDeg);
  return ({ lonDeg, latDeg }) => {
    const turnsDeg = lonDeg - place.lonDeg;
    return {
      xM: (turnsDeg - 360 * Math.round(turnsDeg / 360)) * scale.mPerDegLon,
      yM: (latDeg - place.latDeg) * scale.mPerDegLat,
    };
  };
}

/** The fixes and, between two of them, the point of the straight line that is nearest to the place; in order of time. */
function samplesTo(line: Line, place: Place, straightMs: number): Sample[] {
  const toPlane = planeFrom(place);
  const samples: Sample[] = [];
  for (const points of line) {
    let before: { xM: number; yM: number; timeMs: number } | null = null;
    for (const point of points) {
      if (point.timeMs === null) continue;
      const at = { ...toPlane(point), timeMs: point.timeMs };
      if (before !== null && at.timeMs - before.timeMs <= straightMs) {
        const xM = at.xM - before.xM;
        const yM = at.yM - before.yM;
        const along = -(before.xM * xM + before.yM * yM) / (xM * xM + yM * yM);
        if (along > 0 && along < 1) {
          const awayM = Math.hypot(before.xM + along * xM, before.yM + along * yM);
          samples.push({ timeMs: before.timeMs + along * (at.timeMs - before.timeMs), awayM });
        }
      }
      samples.push({ timeMs: at.timeMs, awayM: Math.hypot(at.xM, at.yM) });
      before = at;
    }
  }
  return samples;
}

/** The stay around the nearest approach between two times, inclusive; `null` without a sample in between. */
function visitOf(samples: readonly Sample[], fromMs: number, toMs: number, samePlaceM: number): Visit | null {
  const own = samples.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs);
  if (own.length === 0) return null;
  let nearest = 0;
  own.forEach(({ awayM }, i) => {
    if (awayM < at(own, nearest).awayM) nearest = i;
  });
  const closest = at(own, nearest);
  const isHere = (sample: Sample | undefined) =>
    sample !== undefined && sample.awayM <= closest.awayM + samePlaceM;
  let [from, to] = [nearest, nearest];
  while (isHere(own[from - 1])) from -= 1;
  while (isHere(own[to + 1])) to += 1;
  return {
    firstMs: at(own, from).timeMs,
    nearestMs: closest.timeMs,
    lastMs: at(own, to).timeMs,
    nearestM: closest.awayM,
    isAtEdge: nearest === 0 || nearest === own.length - 1,
  };
}

const minutes = (fromMs: number, toMs: number): number => (toMs - fromMs) / MS_PER_MIN;

/** Whether the recording has a hole at a moment in which the group could have gone so far and come back. */
function couldHide(line: Line, atMs: number, farM: number, limits: Design['recording']): boolean {
  const times = line.flatMap((points) => points.flatMap(({ timeMs }) => (timeMs === null ? [] : [timeMs])));
  const leastMs = Math.max(limits.dropOutMin * MS_PER_MIN, ((2 * farM) / limits.walkMostMs) * 1000);
  return times.some((timeMs, i) => {
    const next = times[i + 1];
    return (
      next !== undefined && next - timeMs >= leastMs && timeMs <= atMs + leastMs && next >= atMs - leastMs
    );
  });
}

/** A checkpoint of the plan beside the moment in which it was passed; `null`: not passed, or not recorded. */
function comparedAt(
  { name, kind, distanceM, goingUp, at: planned, cutOffMs }: PlannedDay['checkpoints'][number],
  passedMs: number | null,
  startLateMin: number | null,
): PassedCheckpoint {
  const lateMin = passedMs === null ? null : minutes(planned.p50Ms, passedMs);
  return {
    ...{ name, kind, distanceM, goingUp, planned, passedMs, lateMin, cutOffMs },
    lateSinceStartMin: lateMin === null || startLateMin === null ? null : lateMin - startLateMin,
    isInside:
      passedMs === null || kind === 'trailhead'
        ? null
        : passedMs >= planned.p10Ms && passedMs <= planned.p90Ms,
    isByCutOff: passedMs === null || cutOffMs === null ? null : passedMs <= cutOffMs,
  };
}

/**
 * The plan of a day beside its recording: when each checkpoint was passed, whether the group turned back, whether it
 * was below treeline by the deadline. A checkpoint counts as passed at the nearest approach within `passedWithinM`:
 * going up before the high point (or, where it was not reached, before the nearest approach to it), going down after.
 * A stay at one place counts from its beginning, the start to its end; a recording that stops, or turns, short of a
 * place does not pass it, but for the two ends of the walk. What the recording does not show is `null` or `notKnown`,
 * never in time.
 *
 * @param track what was walked, with times that rise (`walksOf`)
 * @param walked the day's moving and standing minutes; `null` where not known
 */
export function plannedAgainstActual(
  plan: PlannedDay,
  track: Pick<Track, 'segments'>,
  walked: { readonly movingMin: number | null; readonly standingMin: number | null },
  design: Design,
): PlannedAgainstActual {
  const { passedWithinM, samePlaceM, straightMin } = design.afterDay;
  const line = track.segments;
  const endMs = lastMs(line) ?? Number.NEGATIVE_INFINITY;
  const samplesOf = (place: Place) => samplesTo(line, place, straightMin * MS_PER_MIN);
  const visit = (place: Place, fromMs: number, toMs: number) =>
    visitOf(samplesOf(place), fromMs, toMs, samePlaceM);

  const isPassed = (found: Visit, kind: string): boolean =>
    found.nearestM <= passedWithinM &&
    (kind === 'trailhead' || kind === 'end' || !found.isAtEdge || found.nearestM <= samePlaceM);

  const high = plan.checkpoints.find(({ kind }) => kind === 'high');
  const top = high === undefined ? null : visit(high, Number.NEGATIVE_INFINITY, endMs);
  const isTopReached = top !== null && isPassed(top, 'high');
  const turnMs = top?.nearestMs ?? endMs;

  let afterMs = Number.NEGATIVE_INFINITY;
  const passed = plan.checkpoints.map((checkpoint) => {
    const isHigh = checkpoint.kind === 'high';
    const fromMs = checkpoint.goingUp ? afterMs : Math.max(afterMs, high === undefined ? afterMs : turnMs);
    const found = isHigh ? top : visit(checkpoint, fromMs, checkpoint.goingUp ? turnMs : endMs);
    if (found === null || !isPassed(found, checkpoint.kind)) return { checkpoint, passedMs: null };
    const passedMs = checkpoint.kind === 'trailhead' ? found.lastMs : found.firstMs;
    afterMs = Math.max(afterMs, passedMs);
    return { checkpoint, passedMs };
  });
  const passedMsOf = (kind: string) =>
    passed.find(({ checkpoint }) => checkpoint.kind === kind)?.passedMs ?? null;

  const startMs = passedMsOf('trailhead');
  const startLateMin = startMs === null ? null : minutes(plan.startMs, startMs);
  const checkpoints = passed.map(({ checkpoint, passedMs }) =>
    comparedAt(checkpoint, passedMs, startLateMin),
  );

  const isOnRoute = passed.some(({ passedMs }) => passedMs !== null);
  const turnedBack = ((): boolean | null => {
    if (!isOnRoute || high === undefined || top === null) return null;
    if (isTopReached) return false;
    // The end of the recording has to be on the way down, and nothing may be hidden where it is nearest to the top.
    const lastAwayM = last(samplesOf(high)).awayM;
    const isGoneDown = lastAwayM > top.nearestM + 2 * passedWithinM;
    return isGoneDown && !couldHide(line, turnMs, top.nearestM, design.recording) ? true : null;
  })();
  const reached = checkpoints.filter(({ goingUp, passedMs }) => goingUp && passedMs !== null).at(-1);

  const belowTreeline = ((): { passedMs: number | null; outcome: DeadlineOutcome } => {
    const none = (outcome: DeadlineOutcome) => ({ passedMs: null, outcome });
    if (plan.treeline === 'notKnown' || !isOnRoute) return none('notKnown');
    if (plan.treeline === 'notReached') return none('neverAbove');
    const up = plan.checkpoints.find(({ kind }) => kind === 'treelineUp');
    if (up === undefined || high === undefined || top === null) return none('notKnown');
    const upMs = passedMsOf('treelineUp');
    if (!isTopReached && upMs === null) {
      const { xM, yM } = planeFrom(high)(up);
      // Turned farther from the top than treeline is; nearer than it the group may have been above all the same.
      return none(turnedBack === true && top.nearestM > Math.hypot(xM, yM) ? 'neverAbove' : 'notKnown');
    }
    // Turned back on a round: it came down where it went up.
    const again =
      passedMsOf('treelineDown') === null ? visit(up, Math.max(turnMs, upMs ?? turnMs), endMs) : null;
    const passedMs =
      passedMsOf('treelineDown') ?? (again !== null && isPassed(again, 'treelineUp') ? again.firstMs : null);
    if (passedMs === null) return none('notKnown');
    return { passedMs, outcome: passedMs <= plan.deadlineMs ? 'inTime' : 'late' };
  })();

  return {
    date: plan.date,
    zone: plan.zone,
    isOnRoute,
    start: { plannedMs: plan.startMs, actualMs: startMs, lateMin: startLateMin },
    checkpoints,
    highestReached: reached === undefined ? null : { name: reached.name, kind: reached.kind },
    turnedBack,
    turnedMs: turnedBack === true && top !== null ? top.firstMs : null,
    belowTreeline: { deadlineMs: plan.deadlineMs, ...belowTreeline },
    isWholeRoute: isTopReached && passedMsOf('end') !== null,
    moving: { plannedMin: plan.movingMin, actualMin: walked.movingMin },
    standing: { plannedMin: plan.standingMin, actualMin: walked.standingMin },
  };
}
