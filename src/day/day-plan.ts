import type { Approach } from '../approach/approach.ts';
import type { PaceModel } from '../capability/pace-model.ts';
import type { AgeBand, Design } from '../design.ts';
import { checkpointsOf, type RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { MS_PER_MIN } from '../units.ts';
import { arrivalsAt } from './arrivals.ts';
import { type Daylight, daylightOf } from './daylight.ts';
import { type Journey, journeyOf } from './journey.ts';
import { type FarthestFromTreeline, type TurnBack, turnBackTimes } from './turn-back.ts';
import { type Moment, momentsOf, type Timeline } from './walk-day.ts';

/** A place of the route in the day: when the group is there, and the latest it may be. */
export interface DayPlace extends RoutePlace, TurnBack {
  readonly at: Moment;
  /** "Turn back if not here by": the earlier of the two cut-off times; `null` where neither arises. */
  readonly cutOffMs: number | null;
  readonly cutOffReason: 'storm' | 'daylight' | null;
}

/** A day on one route in the detail that a leader carries. Times in ms since 1970, to be shown in the timeline's zone. */
export interface DayPlan {
  readonly timeline: Timeline;
  readonly places: readonly DayPlace[];
  readonly plannedWayByMs: number | null;
  readonly farthest: FarthestFromTreeline | null;
  /** Minutes by which no start of the day can meet the deadline with the wanted probability; `null`: one can. */
  readonly shortByMin: number | null;
  readonly daylight: Daylight;
  readonly journey: Journey;
}

/** Lays out the day of a timeline: every checkpoint with its cut-off and retreat times, light, and the drive. */
export function planDay(
  route: Route,
  pace: PaceModel,
  timeline: Timeline,
  approach: Approach,
  ageBand: AgeBand,
  design: Design,
): DayPlan {
  const arrivals = arrivalsAt(checkpointsOf(route, design.checkpoints), route, pace, design);
  const moments = momentsOf(arrivals, timeline.startMs);
  const deadlineMs = timeline.storm.latestStartMs === null ? null : timeline.storm.deadline.atMs;
  const backByMs =
    timeline.civilDuskMs === null ? null : timeline.civilDuskMs - design.daylight.beforeDuskMin * MS_PER_MIN;
  const turnBack = turnBackTimes(
    route,
    pace,
    arrivals.map(({ distanceM }) => distanceM),
    deadlineMs,
    backByMs,
    design,
  );
  const places = arrivals.map(({ after: _, ...place }, i): DayPlace => {
    const latest = turnBack.at[i] ?? { stormMs: null, daylightMs: null, retreatMs: null, retreatWay: null };
    const at = moments[i] ?? { p10Ms: timeline.startMs, p50Ms: timeline.startMs, p90Ms: timeline.startMs };
    const { stormMs, daylightMs } = latest;
    // At the start there is nothing to turn back from: the latest start says it.
    const bounds = place.kind === 'trailhead' || place.kind === 'end' ? [] : [stormMs, daylightMs];
    const known = bounds.filter((ms) => ms !== null);
    const cutOffMs = known.length === 0 ? null : Math.min(...known);
    return {
      ...place,
      ...latest,
      at,
      cutOffMs,
      cutOffReason: cutOffMs === null ? null : cutOffMs === stormMs ? 'storm' : 'daylight',
    };
  });
  const end = places.at(-1)?.at ?? {
    p10Ms: timeline.startMs,
    p50Ms: timeline.startMs,
    p90Ms: timeline.startMs,
  };
  const { latestStartMs } = timeline.storm;
  return {
    timeline,
    places,
    plannedWayByMs: turnBack.plannedWayByMs,
    farthest: turnBack.farthest,
    shortByMin:
      latestStartMs === null || latestStartMs >= timeline.earliestStartMs
        ? null
        : (timeline.earliestStartMs - latestStartMs) / MS_PER_MIN,
    daylight: daylightOf(timeline, end, design.daylight),
    journey: journeyOf(timeline, end, approach, ageBand, design.journey),
  };
}
