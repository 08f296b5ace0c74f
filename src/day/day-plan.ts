import type { Approach } from '../approach/approach.ts';
import { at } from '../array.ts';
import { type PaceModel, quantileMin } from '../capability/pace-model.ts';
import type { AgeBand, Design } from '../design.ts';
import { checkpointsOf, type RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { linePointsOf, passesOf } from '../route/place-at.ts';
import { MS_PER_MIN } from '../units.ts';
import { arrivalsAt } from './arrivals.ts';
import { type Daylight, daylightOf } from './daylight.ts';
import { type Journey, journeyOf } from './journey.ts';
import { backByMs } from './start.ts';
import { quicker, type TurnBack, type TurnBackTimes, turnBackTimes, type WayOut } from './turn-back.ts';
import { type Moment, momentsOf, type Timeline } from './walk-day.ts';
import { walkingOf, withStops } from './walking.ts';

/** Water that the coordinator stated, each time the line passes it; `null`: it lies off the line. */
export interface WaterPoint {
  readonly name: string;
  readonly distanceM: number | null;
  /** Minutes after the start, middle. */
  readonly afterMin: number | null;
  readonly notes: string | null;
}

/** A place of the route in the day: when the group is there, and the latest it may be. */
export interface DayPlace extends RoutePlace, TurnBack {
  readonly at: Moment;
  /** The way to a trailhead and its length: back, or on where that is quicker. */
  readonly roadOut: WayOut | null;
  /** "Turn back if not here by": the earliest of the cut-off times, never later than the late return; `null`: none arises. */
  readonly cutOffMs: number | null;
  readonly cutOffReason: 'storm' | 'heat' | 'daylight' | 'call' | null;
}

/** A cut-off time before even an early arrival cannot be met. */
export const cannotBeMet = ({ cutOffMs, at }: Pick<DayPlace, 'cutOffMs' | 'at'>): boolean =>
  cutOffMs !== null && cutOffMs < at.p10Ms;

/** A day on one route in the detail that a leader carries. Times in ms since 1970, to be shown in the timeline's zone. */
export interface DayPlan extends Omit<TurnBackTimes, 'at'> {
  readonly timeline: Timeline;
  readonly places: readonly DayPlace[];
  readonly end: Moment;
  /** Help is called where nothing is heard by then: so long (setting) after the late return. */
  readonly callOutMs: number;
  /** Minutes by which no start of the day can meet the deadline with the wanted probability; `null`: one can. */
  readonly shortByMin: number | null;
  readonly daylight: Daylight;
  readonly journey: Journey;
  readonly water: readonly WaterPoint[];
}

function waterOf(route: Route, pace: PaceModel, design: Design): WaterPoint[] {
  const line = linePointsOf(route);
  const { snapM, apartM } = design.checkpoints;
  const found = (route.attributes.waterPoints ?? []).map(({ name, lat, lon, notes }) => {
    const passes = passesOf(line, { latDeg: lat, lonDeg: lon }, snapM, apartM);
    return { point: { kind: 'water', name: name ?? 'water', notes: notes ?? null }, passes };
  });
  const onLine = found.flatMap(({ point, passes }) =>
    passes.map(({ atM }) => ({ ...point, distanceM: atM })),
  );
  const passed = arrivalsAt(onLine, route, pace, design).map(({ kind: _, after, ...point }) => {
    return { ...point, afterMin: quantileMin(after, 0.5) };
  });
  const offLine = found
    .filter(({ passes }) => passes.length === 0)
    .map(({ point }) => ({ name: point.name, notes: point.notes, distanceM: null, afterMin: null }));
  return [...passed.sort((a, b) => a.distanceM - b.distanceM), ...offLine];
}

/** When help is called for a group that is late, ms since 1970: the program's margin after its own late return. */
export const callOutAfter = ({ p90Ms }: Pick<Moment, 'p90Ms'>, { cards }: Pick<Design, 'cards'>): number =>
  p90Ms + cards.callOutAfterLateMin * MS_PER_MIN;

function roadsOut(route: Route, pace: PaceModel, design: Design): (atM: number) => WayOut {
  const { onward, back, timeOf } = walkingOf(route, pace, design);
  const lengthM = route.measures.distanceM;
  const highM = route.high?.distanceM ?? 0;
  // A line that just ends at its top leads to no road there.
  const leadsOn = !route.notes.some(({ code }) => code === 'ends-at-top');
  return (atM) => {
    const toBack = withStops(timeOf(back(atM, 0)), pace);
    // On the way up there and back both are the way one came.
    const isBack = !leadsOn || (route.measures.shape === 'outAndBack' && atM <= highM);
    const out = quicker(toBack, isBack ? null : withStops(timeOf(onward(atM, lengthM)), pace));
    return { ...out, distanceM: out.way === 'back' ? atM : lengthM - atM };
  };
}

/** Lays out the day of a timeline: every checkpoint with its cut-off and retreat times, light, and the drive. */
export function planDay(
  route: Route,
  { pace, ageBand }: { readonly pace: PaceModel; readonly ageBand: AgeBand },
  timeline: Timeline,
  approach: Approach,
  design: Design,
): DayPlan {
  // A trailhead above treeline is no treeline: nobody comes below it there.
  const checkpoints = checkpointsOf(route, design.checkpoints).filter(
    ({ kind, distanceM }) =>
      !(kind === 'treelineUp' && distanceM < 1) &&
      !(kind === 'treelineDown' && distanceM > route.measures.distanceM - 1),
  );
  const arrivals = arrivalsAt(checkpoints, route, pace, design);
  const moments = momentsOf(arrivals, timeline.startMs);
  const deadlineMs = timeline.storm.latestStartMs === null ? null : timeline.storm.deadline.atMs;
  const end = at(moments, moments.length - 1);
  const callOutMs = callOutAfter(end, design);
  const homeBy = [
    // Where storms set no time, being home before help is called does.
    { reason: 'call' as const, ms: deadlineMs === null ? callOutMs : Number.POSITIVE_INFINITY },
    { reason: 'daylight' as const, ms: backByMs(timeline, design.daylight) ?? Number.POSITIVE_INFINITY },
    { reason: 'heat' as const, ms: timeline.heatFromMs ?? Number.POSITIVE_INFINITY },
  ].reduce((one, other) => (other.ms < one.ms ? other : one));
  const limits = { deadlineMs, backByMs: Number.isFinite(homeBy.ms) ? homeBy.ms : null };
  const placesM = arrivals.map(({ distanceM }) => distanceM);
  const { at: latestAt, ...turnBack } = turnBackTimes(route, pace, placesM, limits, design);
  const roadOutFrom = roadsOut(route, pace, design);
  const places = arrivals.map(({ after: _, ...place }, i): DayPlace => {
    const latest = at(latestAt, i);
    const { stormMs, daylightMs } = latest;
    // At the start there is nothing to turn back from: the latest start says it.
    const isAtRoad = place.kind === 'trailhead' || place.kind === 'end';
    const known = isAtRoad ? [] : [stormMs, daylightMs].filter((ms) => ms !== null);
    const cutOffMs = known.length === 0 ? null : Math.min(...known, end.p90Ms);
    // At the top the two meet.
    const leaveByMs = place.kind === 'high' ? (cutOffMs ?? end.p90Ms) : end.p90Ms;
    const retreatMs = latest.retreatMs === null ? null : Math.min(latest.retreatMs, leaveByMs);
    return {
      ...place,
      ...latest,
      at: at(moments, i),
      roadOut: isAtRoad ? null : roadOutFrom(place.distanceM),
      ...{ cutOffMs, retreatMs },
      cutOffReason:
        cutOffMs === null
          ? null
          : cutOffMs === stormMs
            ? 'storm'
            : cutOffMs === daylightMs
              ? homeBy.reason
              : 'call',
    };
  });
  const { latestStartMs } = timeline.storm;
  return {
    ...{ timeline, places, end, callOutMs, ...turnBack },
    shortByMin:
      latestStartMs === null || latestStartMs >= timeline.earliestStartMs
        ? null
        : (timeline.earliestStartMs - latestStartMs) / MS_PER_MIN,
    daylight: daylightOf(timeline, end, design.daylight),
    journey: journeyOf(timeline, end, approach, ageBand, design.journey),
    water: waterOf(route, pace, design),
  };
}
