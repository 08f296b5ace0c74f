import { cannotBeMet, type DayPlace, type DayPlan } from '../day/day-plan.ts';
import type { Way } from '../day/turn-back.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { CheckpointKind } from '../route/checkpoints.ts';

interface PlaceView {
  readonly kind: CheckpointKind;
  readonly name: string;
  readonly distanceM: number;
  readonly elevationM: number | null;
  readonly lat: number;
  readonly lon: number;
  readonly goingUp: boolean;
  readonly aboveTreeline: boolean | null;
}

export interface TimelineEntry extends PlaceView {
  readonly at: { readonly p10: string; readonly p50: string; readonly p90: string };
}

export interface CutOffEntry extends PlaceView {
  /** "Turn back if not here by": the earlier of the two below. */
  readonly at: string;
  readonly reason: 'storm' | 'daylight';
  readonly storm: string | null;
  readonly daylight: string | null;
  /** The cut-off lies before even an early arrival: the climb cannot be done in this window. */
  readonly cannotBeMet: boolean;
}

export interface RetreatEntry extends PlaceView {
  readonly at: string;
  readonly way: Way | null;
}

/** The day of a plan as it is sent; every part is `null` where no height under the line is known. */
export interface DayViews {
  readonly timeline: readonly TimelineEntry[] | null;
  /** Empty where there is nothing to turn back from in time. */
  readonly cutOffTimes: readonly CutOffEntry[] | null;
  readonly retreatTimes: readonly RetreatEntry[] | null;
  readonly stormWindow: {
    readonly deadline: string;
    readonly usualDeadline: string;
    readonly start: string;
    readonly earliestStart: string;
    readonly latestStart: string | null;
    readonly probabilityBelowTreelineByDeadline: number | null;
    /** Minutes by which no start can meet the deadline; `null`: one can, or the question does not arise. */
    readonly shortByMin: number | null;
    /** The latest moment to leave the top back the way one came, where that is quicker than the planned way. */
    readonly backFromTopBy: string | null;
    /** The place above treeline that has to be left first, where it is not the top. */
    readonly firstToLeave: { readonly distanceM: number; readonly by: string } | null;
    readonly farthestFromTreeline: {
      readonly distanceM: number;
      readonly way: Way;
      readonly p50Min: number;
      readonly p90Min: number;
    } | null;
  } | null;
  readonly daylight: {
    readonly civilDawn: string | null;
    readonly sunrise: string | null;
    readonly sunset: string | null;
    readonly civilDusk: string | null;
    readonly polar: 'day' | 'night' | null;
    readonly headlampP50Min: number;
    readonly headlampP90Min: number;
    readonly endsNearDark: boolean;
  } | null;
  readonly drive: {
    readonly roadKm: number | null;
    readonly roadMin: number | null;
    readonly kmEstimated: boolean;
    readonly minEstimated: boolean;
    readonly depart: string | null;
    readonly home: { readonly p50: string; readonly p90: string } | null;
    readonly sleepH: number | null;
    readonly leastSleepH: number;
    readonly tooLittleSleep: boolean;
  } | null;
}

// + 0 turns -0 into 0.
const tenth = (value: number): number => Math.round(value * 10) / 10 + 0;
const millionth = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;

/** The day as programs read it: RFC 3339 with the offset of the place, metres and minutes to a tenth. */
export function dayViews(day: DayPlan | null): DayViews {
  if (day === null) {
    return {
      timeline: null,
      cutOffTimes: null,
      retreatTimes: null,
      stormWindow: null,
      daylight: null,
      drive: null,
    };
  }
  const { timeline, places, journey, daylight, farthest } = day;
  const { storm } = timeline;
  const text = (ms: number) => rfc3339(ms, timeline.zone);
  const orNull = (ms: number | null) => (ms === null ? null : text(ms));
  const place = (at: DayPlace): PlaceView => ({
    kind: at.kind,
    name: at.name,
    distanceM: tenth(at.distanceM),
    elevationM: at.elevationM === null ? null : tenth(at.elevationM),
    lat: millionth(at.latDeg),
    // Lines are unwrapped inside and may run past ±180°.
    lon: millionth(at.lonDeg - 360 * Math.round(at.lonDeg / 360)),
    goingUp: at.goingUp,
    aboveTreeline: at.aboveTreeline,
  });
  return {
    timeline: places.map((at) => ({
      ...place(at),
      at: { p10: text(at.at.p10Ms), p50: text(at.at.p50Ms), p90: text(at.at.p90Ms) },
    })),
    cutOffTimes: places.flatMap((at) =>
      at.cutOffMs === null || at.cutOffReason === null
        ? []
        : [
            {
              ...place(at),
              at: text(at.cutOffMs),
              reason: at.cutOffReason,
              storm: orNull(at.stormMs),
              daylight: orNull(at.daylightMs),
              cannotBeMet: cannotBeMet(at),
            },
          ],
    ),
    retreatTimes: places.flatMap((at) =>
      at.retreatMs === null ? [] : [{ ...place(at), at: text(at.retreatMs), way: at.retreatWay }],
    ),
    stormWindow: {
      deadline: text(storm.deadline.atMs),
      usualDeadline: text(storm.deadline.usualMs),
      start: text(timeline.startMs),
      earliestStart: text(timeline.earliestStartMs),
      latestStart: orNull(storm.latestStartMs),
      probabilityBelowTreelineByDeadline:
        storm.probability === null ? null : Math.round(storm.probability * 1e4) / 1e4,
      shortByMin: day.shortByMin === null ? null : Math.ceil(day.shortByMin),
      backFromTopBy: orNull(day.backFromTopByMs),
      firstToLeave:
        day.firstToLeave === null
          ? null
          : { distanceM: tenth(day.firstToLeave.distanceM), by: text(day.firstToLeave.byMs) },
      farthestFromTreeline:
        farthest === null
          ? null
          : {
              distanceM: tenth(farthest.distanceM),
              way: farthest.way,
              p50Min: tenth(farthest.minutes.p50),
              p90Min: tenth(farthest.minutes.p90),
            },
    },
    daylight: {
      civilDawn: orNull(timeline.civilDawnMs),
      sunrise: orNull(timeline.sunriseMs),
      sunset: orNull(timeline.sunsetMs),
      civilDusk: orNull(timeline.civilDuskMs),
      polar: timeline.polar,
      headlampP50Min: tenth(daylight.headlampMin.p50),
      headlampP90Min: tenth(daylight.headlampMin.p90),
      endsNearDark: daylight.endsNearDark,
    },
    drive: {
      roadKm: journey.approach.roadKm === null ? null : tenth(journey.approach.roadKm),
      roadMin: journey.approach.roadMin === null ? null : tenth(journey.approach.roadMin),
      kmEstimated: journey.approach.kmEstimated,
      minEstimated: journey.approach.minEstimated,
      depart: orNull(journey.departMs),
      home: journey.home === null ? null : { p50: text(journey.home.p50Ms), p90: text(journey.home.p90Ms) },
      sleepH: journey.sleepH === null ? null : tenth(journey.sleepH),
      leastSleepH: journey.leastSleepH,
      tooLittleSleep: journey.tooLittleSleep,
    },
  };
}
