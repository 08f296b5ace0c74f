import { at, last } from '../array.ts';
import {
  type PaceModel,
  probabilityWithin,
  quantileMin,
  type Spread,
  spreadOf,
  type TimeEstimate,
} from '../capability/pace-model.ts';
import type { Design } from '../design.ts';
import { yearAt } from '../earth/climate.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { type SunDay, sunDay } from '../earth/sun.ts';
import type { MainKind, MainPlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { zoneFor } from '../route/zone-for.ts';
import { MS_PER_MIN } from '../units.ts';
import { type Arrival, arrivalsOf, type SlowingFactors, slowingOf } from './arrivals.ts';
import { type Deadline, deadlineOf } from './deadline.ts';
import { type RuleTime, ruleTimes } from './rule-times.ts';
import { hotDayOn } from './season.ts';
import { backByMs, earliestStart, startWithin } from './start.ts';
import { walkingOf } from './walking.ts';

/** A moment with its doubt, ms since 1970. */
export interface Moment {
  readonly p10Ms: number;
  readonly p50Ms: number;
  readonly p90Ms: number;
}

interface Checkpoint extends MainPlace {
  readonly at: Moment;
}

interface StormWindow {
  readonly deadline: Deadline;
  /** The group leaves the ground above treeline only by ending the route: at a trailhead up there, or not at all. */
  readonly endsAbove: boolean;
  /** `null`: nothing above treeline, or treeline unknown. */
  readonly latestStartMs: number | null;
  /** Probability of being below treeline by the deadline, for the start chosen and for the earliest one. */
  readonly probability: number | null;
  readonly probabilityAtEarliest: number | null;
}

/** A group's day on a route, on paper. Times in ms since 1970, to be shown in `zone`. */
export interface Timeline
  extends Pick<SunDay, 'civilDawnMs' | 'civilDuskMs' | 'sunriseMs' | 'sunsetMs' | 'polar'> {
  readonly date: string;
  readonly zone: string;
  readonly startMs: number;
  /** The chosen start itself, where a leader chose one. */
  readonly earliestStartMs: number;
  readonly isStartChosen: boolean;
  readonly checkpoints: readonly Checkpoint[];
  readonly storm: StormWindow;
  /** From when a hot day is hot, in a hot country and season; `null`: it is neither. */
  readonly heatFromMs: number | null;
  /** Moving time of the whole walk, stops and meals not counted, minutes: to set beside published rules. */
  readonly movingMin: number;
  /** What makes it longer than on trail at the height of the training. */
  readonly slowing: SlowingFactors;
  /** The same by published rules, fitted to nobody: a cross-check. */
  readonly rules: readonly RuleTime[];
  /** The whole day from start to end, stops and meals included, minutes. */
  readonly dayMin: Spread;
}

export interface DayWishes {
  readonly earliestStart: string | null;
  readonly deadline: string | null;
  /** `false` and `null` (not stated): nobody walks before civil dawn. */
  readonly headlamps: boolean | null;
  /** A start that the leader chose (`HH:MM`), whatever the window says; missing or `null`: the one worked out. */
  readonly start?: string | null;
}

/** Arrivals as moments. Nobody is at a later checkpoint before an earlier one, at any percentile. */
export function momentsOf(arrivals: readonly { readonly after: TimeEstimate }[], startMs: number): Moment[] {
  const reached = { p10: 0, p50: 0, p90: 0 };
  const at = (minutes: number) => startMs + minutes * MS_PER_MIN;
  return arrivals.map(({ after }) => {
    const spread = spreadOf(after);
    reached.p10 = Math.max(reached.p10, spread.p10);
    reached.p50 = Math.max(reached.p50, spread.p50);
    reached.p90 = Math.max(reached.p90, spread.p90);
    return { p10Ms: at(reached.p10), p50Ms: at(reached.p50), p90Ms: at(reached.p90) };
  });
}

function checkpointsOf(arrivals: readonly Arrival[], startMs: number): Checkpoint[] {
  const moments = momentsOf(arrivals, startMs);
  return arrivals.map(({ after: _, ...place }, i) => ({ ...place, at: at(moments, i) }));
}

/** When it gets hot on a hot day of a hot country and season, by the sun; `null`: it does not. */
function heatFrom(
  { trailhead, measures: { lowM } }: Route,
  date: string,
  solarNoonMs: number,
  { climate }: Design,
): number | null {
  const isHot = lowM !== null && hotDayOn(date, climate)(yearAt(trailhead.latDeg), lowM) >= climate.hotFromC;
  return isHot ? solarNoonMs - climate.heatBeforeNoonMin * MS_PER_MIN : null;
}

/**
 * The group walks the route on a date: when it is where (10, 50, 90 %), the deadline, the latest start that leaves
 * treeline in time with the wanted probability, and the start chosen: the latest round time that meets both the
 * storm window, heat and daylight, not before the earliest start and not later than a usual day's.
 */
export function walkDay(
  route: Route,
  pace: PaceModel,
  date: string,
  wishes: DayWishes,
  design: Design,
): Timeline {
  const zone = zoneFor(route, design);
  const sun = sunDay(date, route.trailhead, zone);
  const deadline = deadlineOf(date, zone, sun.solarNoonMs, wishes.deadline, design.stormWindow);
  const walking = walkingOf(route, pace, design);
  const arrivals = arrivalsOf(route, pace, design, walking);

  const stated = localTimeMs(date, wishes.earliestStart ?? design.day.earliestStart, zone);
  const stepMin = design.day.roundStartMin;
  const earliestStartMs = earliestStart(
    stated,
    sun.civilDawnMs ?? Number.NaN,
    wishes.headlamps === true,
    stepMin,
  );

  const find = (kind: MainKind) => arrivals.find((arrival) => arrival.kind === kind);
  const { probability, planProbability } = design.stormWindow;
  const exit = find('treelineDown');
  const end = last(arrivals);
  const latestStartMs =
    exit === undefined ? null : deadline.atMs - quantileMin(exit.after, probability) * MS_PER_MIN;
  const heatFromMs = heatFrom(route, date, sun.solarNoonMs, design);
  const homeByMs = backByMs(sun, design.daylight);
  const lateMin = quantileMin(end.after, 0.9);
  const limits = {
    earliestMs: earliestStartMs,
    usualMs: localTimeMs(date, design.day.usualStart, zone),
    stormMs:
      exit === undefined ? Number.NaN : deadline.atMs - quantileMin(exit.after, planProbability) * MS_PER_MIN,
    backMs: localTimeMs(date, design.day.usualBack, zone) - lateMin * MS_PER_MIN,
    heatMs: heatFromMs === null ? Number.NaN : (sun.civilDawnMs ?? Number.NaN),
    duskMs: (homeByMs ?? Number.NaN) - lateMin * MS_PER_MIN,
    isTreelineKnown: route.measures.aboveTreelineM !== null,
  };
  const isStartChosen = wishes.start != null;
  const startMs = wishes.start == null ? startWithin(limits, stepMin) : localTimeMs(date, wishes.start, zone);

  const probabilityFrom = (ms: number): number | null =>
    exit === undefined ? null : probabilityWithin(exit.after, (deadline.atMs - ms) / MS_PER_MIN);
  const started = probabilityFrom(startMs);
  // A leader's own start is the only one that counts: an earlier one would be another plan.
  const firstMs = isStartChosen ? startMs : earliestStartMs;
  const { civilDawnMs, civilDuskMs, sunriseMs, sunsetMs, polar } = sun;
  return {
    ...{ date, zone, startMs, earliestStartMs: firstMs, isStartChosen },
    checkpoints: checkpointsOf(arrivals, startMs),
    storm: {
      deadline,
      endsAbove: exit !== undefined && exit.distanceM >= end.distanceM,
      latestStartMs,
      probability: started,
      probabilityAtEarliest: firstMs === startMs ? started : probabilityFrom(firstMs),
    },
    ...{ civilDawnMs, civilDuskMs, sunriseMs, sunsetMs, polar, heatFromMs },
    movingMin: walking.timeOf(walking.onward(0, Number.POSITIVE_INFINITY)).meanMin,
    slowing: slowingOf(route, pace, design),
    rules: ruleTimes(route),
    dayMin: spreadOf(end.after),
  };
}
