import Type from 'typebox';
import { cannotBeMet, type DayPlace, type DayPlan } from '../day/day-plan.ts';
import type { Timeline } from '../day/walk-day.ts';
import * as t from '../schema.ts';
import { places, placesOrNull, places as rounded, tenth, tenthOrNull, timesIn } from './rounded.ts';

/** When, as the middle and the bounds of four fifths. */
export const momentSchema = t.closed({ p10: t.instant, p50: t.instant, p90: t.instant });
export const momentRef = t.named('Moment', momentSchema);

export const daySchema = t.closed({
  zone: t.text,
  start: t.instant,
  earliestStart: t.instant,
  latestStart: t.instantOrNull,
  deadline: t.instant,
  /** The project’s own deadline, where a program set another. */
  usualDeadline: t.instant,
  probabilityBelowTreelineByDeadline: t.numberOrNull,
  aboveTreeline: t.orNull(momentRef),
  summit: t.orNull(momentRef),
  belowTreeline: t.orNull(momentRef),
  trailhead: t.orNull(momentRef),
  /** Moving time, stops and meals not counted: this group’s middle, and published rules next to it. */
  movingMin: t.number,
  slowing: t.closed({ ground: t.number, altitude: t.number }),
  rules: t.list(t.closed({ name: t.text, source: t.text, movingMin: t.number })),
  civilDawn: t.instantOrNull,
  civilDusk: t.instantOrNull,
});

export type DayView = t.Shaped<typeof daySchema>;

/** The day as it is sent: RFC 3339 with the offset of the place. */
export function dayView(timeline: Timeline): DayView {
  const { zone, storm } = timeline;
  const { text, textOrNull, moment } = timesIn(zone);
  const momentAt = (kind: string) => {
    const place = timeline.checkpoints.find((checkpoint) => checkpoint.kind === kind);
    return place === undefined ? null : moment(place.at);
  };
  return {
    zone,
    start: text(timeline.startMs),
    earliestStart: text(timeline.earliestStartMs),
    latestStart: textOrNull(storm.latestStartMs),
    deadline: text(storm.deadline.atMs),
    usualDeadline: text(storm.deadline.usualMs),
    probabilityBelowTreelineByDeadline: placesOrNull(storm.probability, 4),
    aboveTreeline: momentAt('treelineUp'),
    summit: momentAt('high'),
    belowTreeline: momentAt('treelineDown'),
    trailhead: momentAt('end'),
    movingMin: places(timeline.movingMin, 0),
    slowing: {
      ground: places(timeline.slowing.ground, 3),
      altitude: places(timeline.slowing.altitude, 3),
    },
    rules: timeline.rules.map((rule) => ({ ...rule, movingMin: places(rule.movingMin, 0) })),
    civilDawn: textOrNull(timeline.civilDawnMs),
    civilDusk: textOrNull(timeline.civilDuskMs),
  };
}

const way = t.oneOf(['back', 'onward']);

const placeSchema = t.closed({
  kind: t.oneOf([
    ...(['trailhead', 'treelineUp', 'high', 'treelineDown', 'end'] as const),
    ...(['waypoint', 'bend', 'shoulder', 'onTheWay'] as const),
  ]),
  name: Type.String({ description: 'as in the file; empty where it has none' }),
  distanceM: t.number,
  elevationM: t.numberOrNull,
  lat: t.number,
  lon: t.number,
  goingUp: t.boolean,
  aboveTreeline: t.orNull(t.boolean),
});

const timelineEntry = t.closed({ ...placeSchema.properties, at: momentRef });

const cutOffEntry = t.closed({
  ...placeSchema.properties,
  /** "Turn back if not here by": the earlier of the two below. */
  at: t.instant,
  reason: t.oneOf(['storm', 'heat', 'daylight', 'call']),
  storm: t.instantOrNull,
  daylight: t.instantOrNull,
  /** The cut-off lies before even an early arrival: the climb cannot be done in this window. */
  cannotBeMet: t.boolean,
});

const retreatEntry = t.closed({ ...placeSchema.properties, at: t.instant, way: t.orNull(way) });

const stormWindow = t.closed({
  deadline: t.instant,
  usualDeadline: t.instant,
  start: t.instant,
  earliestStart: t.instant,
  latestStart: t.instantOrNull,
  probabilityBelowTreelineByDeadline: t.numberOrNull,
  /** Minutes by which no start can meet the deadline; `null`: one can, or the question does not arise. */
  shortByMin: t.numberOrNull,
  /** The latest moment to leave the top back the way one came, where that is quicker than the planned way. */
  backFromTopBy: t.instantOrNull,
  /** The place above treeline that has to be left first, where it is not the top. */
  firstToLeave: t.orNull(t.closed({ distanceM: t.number, by: t.instant })),
  farthestFromTreeline: t.orNull(t.closed({ distanceM: t.number, way, p50Min: t.number, p90Min: t.number })),
});

const daylightSchema = t.closed({
  civilDawn: t.instantOrNull,
  sunrise: t.instantOrNull,
  sunset: t.instantOrNull,
  civilDusk: t.instantOrNull,
  polar: t.orNull(t.oneOf(['day', 'night'])),
  headlampP50Min: t.number,
  headlampP90Min: t.number,
  endsNearDark: t.boolean,
});

const drive = t.closed({
  roadKm: t.numberOrNull,
  roadMin: t.numberOrNull,
  kmEstimated: t.boolean,
  minEstimated: t.boolean,
  depart: t.instantOrNull,
  home: t.orNull(t.closed({ p50: t.instant, p90: t.instant })),
  sleepH: t.numberOrNull,
  leastSleepH: t.number,
  tooLittleSleep: t.boolean,
});

/** The day of a plan as it is sent; every part is `null` where no height under the line is known. */
export const dayViewsSchema = t.closed({
  timeline: t.orNull(t.list(timelineEntry)),
  /** Empty where there is nothing to turn back from in time. */
  cutOffTimes: t.orNull(t.list(cutOffEntry)),
  retreatTimes: t.orNull(t.list(retreatEntry)),
  stormWindow: t.orNull(stormWindow),
  daylight: t.orNull(daylightSchema),
  drive: t.orNull(drive),
});

type PlaceView = t.Shaped<typeof placeSchema>;
export type DayViews = t.Shaped<typeof dayViewsSchema>;

const NO_DAY: DayViews = {
  timeline: null,
  cutOffTimes: null,
  retreatTimes: null,
  stormWindow: null,
  daylight: null,
  drive: null,
};

/** The day as programs read it: RFC 3339 with the offset of the place, metres and minutes to a tenth. */
export function dayViews(day: DayPlan | null): DayViews {
  if (day === null) return NO_DAY;
  const { timeline, places, journey, daylight, farthest, firstToLeave } = day;
  const { storm } = timeline;
  const { approach } = journey;
  const { text, textOrNull, moment } = timesIn(timeline.zone);
  const place = (at: DayPlace): PlaceView => ({
    kind: at.kind,
    name: at.name,
    distanceM: tenth(at.distanceM),
    elevationM: tenthOrNull(at.elevationM),
    lat: rounded(at.latDeg, 6),
    // Lines are unwrapped inside and may run past ±180°.
    lon: rounded(at.lonDeg - 360 * Math.round(at.lonDeg / 360), 6),
    goingUp: at.goingUp,
    aboveTreeline: at.aboveTreeline,
  });
  return {
    timeline: places.map((at) => ({ ...place(at), at: moment(at.at) })),
    cutOffTimes: places.flatMap((at) =>
      at.cutOffMs === null || at.cutOffReason === null
        ? []
        : [
            {
              ...place(at),
              at: text(at.cutOffMs),
              reason: at.cutOffReason,
              storm: textOrNull(at.stormMs),
              daylight: textOrNull(at.daylightMs),
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
      latestStart: textOrNull(storm.latestStartMs),
      probabilityBelowTreelineByDeadline: placesOrNull(storm.probability, 4),
      shortByMin: day.shortByMin === null ? null : Math.ceil(day.shortByMin),
      backFromTopBy: textOrNull(day.backFromTopByMs),
      firstToLeave: firstToLeave && {
        distanceM: tenth(firstToLeave.distanceM),
        by: text(firstToLeave.byMs),
      },
      farthestFromTreeline: farthest && {
        distanceM: tenth(farthest.distanceM),
        way: farthest.way,
        p50Min: tenth(farthest.minutes.p50),
        p90Min: tenth(farthest.minutes.p90),
      },
    },
    daylight: {
      civilDawn: textOrNull(timeline.civilDawnMs),
      sunrise: textOrNull(timeline.sunriseMs),
      sunset: textOrNull(timeline.sunsetMs),
      civilDusk: textOrNull(timeline.civilDuskMs),
      polar: timeline.polar,
      headlampP50Min: tenth(daylight.headlampMin.p50),
      headlampP90Min: tenth(daylight.headlampMin.p90),
      endsNearDark: daylight.endsNearDark,
    },
    drive: {
      roadKm: tenthOrNull(approach.roadKm),
      roadMin: tenthOrNull(approach.roadMin),
      kmEstimated: approach.kmEstimated,
      minEstimated: approach.minEstimated,
      depart: textOrNull(journey.departMs),
      home: journey.home && { p50: text(journey.home.p50Ms), p90: text(journey.home.p90Ms) },
      sleepH: tenthOrNull(journey.sleepH),
      leastSleepH: journey.leastSleepH,
      tooLittleSleep: journey.tooLittleSleep,
    },
  };
}
