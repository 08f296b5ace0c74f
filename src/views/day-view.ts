import type { Timeline } from '../day/walk-day.ts';
import {
  closed,
  instant,
  instantOrNull,
  list,
  named,
  number,
  numberOrNull,
  orNull,
  type Shaped,
  text,
} from '../schema.ts';
import { places, placesOrNull, timesIn } from './rounded.ts';

/** When, as the middle and the bounds of four fifths. */
export const momentSchema = closed({ p10: instant, p50: instant, p90: instant });
export const momentRef = named('Moment', momentSchema);

export const daySchema = closed({
  zone: text,
  start: instant,
  earliestStart: instant,
  latestStart: instantOrNull,
  deadline: instant,
  /** The project’s own deadline, where a program set another. */
  usualDeadline: instant,
  probabilityBelowTreelineByDeadline: numberOrNull,
  aboveTreeline: orNull(momentRef),
  summit: orNull(momentRef),
  belowTreeline: orNull(momentRef),
  trailhead: orNull(momentRef),
  /** Moving time, stops and meals not counted: this group’s middle, and published rules next to it. */
  movingMin: number,
  slowing: closed({ ground: number, altitude: number }),
  rules: list(closed({ name: text, source: text, movingMin: number })),
  civilDawn: instantOrNull,
  civilDusk: instantOrNull,
});

export type DayView = Shaped<typeof daySchema>;

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
