/** What the leaders' sheet says of the day itself: its times, storms, light and drive. */
import type { DayPlace, DayPlan } from '../day/day-plan.ts';
import type { LightningBackground } from '../day/lightning-background.ts';
import type { Design } from '../design.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { DayDetails } from '../plan/day-details.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import { placeText } from '../text/place-words.ts';
import { chanceText, durationText, heightText, lengthText, percentText } from '../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../units.ts';
import { type PageLine, type PageSection, section, TRADE } from './people-page.ts';
import { clockOf, cutOffCell, retreatCell, wayDownRead } from './turn-cells.ts';

/** A plan, and how it is to be read. */
export type Sheet = TripPlan & { readonly design: Design; readonly units: UnitSystem };

/** Below treeline, or where the walk ends above it, back at the vehicles. */
export const offHighGround = ({ timeline }: DayPlan): string =>
  timeline.storm.endsAbove ? 'back at the vehicles' : 'below treeline';

/** Places, times, turn-back and retreat times. */
export function theDay({ day }: DayDetails, units: UnitSystem, design: Design): PageSection {
  const clock = clockOf(day);
  const isStart = (kind: DayPlace['kind']) => kind === 'trailhead';
  return section('The day', {
    lines: [
      'Early, middle, late: one day in ten is earlier than early, one in ten later than late. Stops are counted, and on a long day a meal at the top.',
      `Turn back where you are if you are not at a place by its time. The times leave the rest of the climb, the stops and the way down, done with ${percentText(design.stormWindow.probability)} probability, counted for a group that is slow today.`,
      wayDownRead(day.places.map((place) => retreatCell(place, clock))),
    ],
    table: {
      columns: [
        'Place',
        'From start',
        'Height',
        'Early',
        'Middle',
        'Late',
        'Turn back if not here by',
        'Start down from here by',
      ],
      rows: day.places.map((place) => [
        placeText(place, units),
        lengthText(place.distanceM, units),
        place.elevationM === null ? '–' : heightText(place.elevationM, units),
        ...(isStart(place.kind)
          ? ['–', clock(day.timeline.startMs), '–']
          : [clock(place.at.p10Ms), clock(place.at.p50Ms), clock(place.at.p90Ms)]),
        cutOffCell(place, clock),
        retreatCell(place, clock),
      ]),
      marked: day.places.flatMap(({ kind }, i) => (kind === 'high' ? [i] : [])),
    },
  });
}

export function storms({ day }: DayDetails, { fit, lightning, units, design }: Sheet): PageSection {
  const clock = clockOf(day);
  const { timeline } = day;
  const { storm } = timeline;
  const { deadline } = storm;
  const usual =
    deadline.setBy === 'program'
      ? `set by the program; usually ${clock(deadline.usualMs)}`
      : deadline.usualText;
  const lines: (string | PageLine)[] = [
    {
      text: `Deadline to be ${offHighGround(day)}: ${clock(deadline.atMs)} (${usual}).${deadline.atMs > deadline.usualMs ? ' Later than the usual one: storms may come first.' : ''}`,
      source: deadline.setBy === 'program' ? null : TRADE,
    },
  ];
  if (fit.route.measures.aboveTreelineM === null) {
    lines.push(
      'Treeline is not known, so no turn-back time for storms can be given: state its height for the route, or for the program.',
    );
  } else if (storm.latestStartMs === null || storm.probability === null) {
    lines.push('No ground above treeline: turn-back times are for daylight.');
  } else {
    const wanted = percentText(design.stormWindow.probability);
    lines.push(
      `From a start at ${clock(timeline.startMs)} the group is ${offHighGround(day)} by then with ${chanceText(storm.probability)} probability.`,
      day.shortByMin === null || timeline.isStartChosen
        ? `Latest start for ${wanted}: ${clock(storm.latestStartMs)}${timeline.isStartChosen ? '.' : `; earliest start ${clock(timeline.earliestStartMs)}.`}`
        : `This route cannot be done in the window: ${wanted} would take a start ${durationText(day.shortByMin)} before the earliest one (${clock(timeline.earliestStartMs)}).`,
    );
    const lateMin = (timeline.startMs - storm.latestStartMs) / MS_PER_MIN;
    if (timeline.isStartChosen && lateMin >= 1) {
      lines.push(
        `This start is ${durationText(lateMin)} later than the latest one for ${wanted}: start earlier, or choose another day.`,
      );
    }
    const top = day.places.find(({ kind }) => kind === 'high');
    if (day.backFromTopByMs !== null && top?.cutOffMs != null) {
      lines.push(
        `Leave the top by ${clock(top.cutOffMs)} to go on the planned way; later than that go back the way you came, by ${clock(day.backFromTopByMs)}.`,
      );
    }
    if (day.firstToLeave !== null) {
      lines.push(
        `The place to leave first lies ${lengthText(day.firstToLeave.distanceM, units)} from the start: by ${clock(day.firstToLeave.byMs)}, back or on, whichever is nearer to treeline.`,
      );
    }
    if (day.farthest !== null) {
      const { minutes, way, distanceM } = day.farthest;
      lines.push(
        `The longest way to treeline: ${durationText(minutes.p50)}, late ${durationText(minutes.p90)}, from ${lengthText(distanceM, units)} after the start, ${way === 'back' ? 'back the way you came' : 'on along the route'}.`,
      );
    }
    lines.push(
      'Late at a checkpoint mostly means slow today. Of simulated days that came to the top in the last five minutes before its time, about eight in ten were below treeline in time: if you are slow, turn earlier.',
    );
  }
  return section('Storms and turning round', { lines: [...lines, ...lightningLines(lightning)] });
}

export function light({ day }: DayDetails, { record }: Sheet): PageSection {
  const clock = clockOf(day);
  const { timeline, daylight } = day;
  const isDark =
    record.cohort.headlamps !== true &&
    timeline.civilDawnMs !== null &&
    timeline.startMs < timeline.civilDawnMs;
  const sun = [
    timeline.civilDawnMs === null ? null : `first light ${clock(timeline.civilDawnMs)}`,
    timeline.sunriseMs === null ? null : `sunrise ${clock(timeline.sunriseMs)}`,
    timeline.sunsetMs === null ? null : `sunset ${clock(timeline.sunsetMs)}`,
    timeline.civilDuskMs === null ? null : `dark ${clock(timeline.civilDuskMs)}`,
  ].filter((text) => text !== null);
  const polar =
    timeline.polar === 'day'
      ? 'The sun does not set on this day.'
      : timeline.polar === 'night'
        ? 'The sun does not rise on this day.'
        : null;
  const { p50, p90 } = daylight.headlampMin;
  return section('Light', {
    lines: [
      polar,
      isDark
        ? 'This start is before first light, and no headlamps are stated: nobody walks in the dark without one.'
        : null,
      sun.length > 0
        ? { text: `${sun.join(', ')} (civil twilight; hills around not counted).`, source: 'NOAA/Meeus' }
        : null,
      p90 < 1
        ? 'No part of the day needs a headlamp unless something goes wrong: carry one all the same.'
        : `By headlamp: ${durationText(p50)}, on a late day ${durationText(p90)}.`,
      daylight.endsNearDark
        ? 'A late day ends within an hour of dark, or after it: start earlier or choose shorter.'
        : null,
      `Clock times are ${timeline.zone.startsWith('Etc/') ? '' : `${timeline.zone}, `}UTC${rfc3339(timeline.startMs, timeline.zone).slice(-6)}.`,
    ],
  });
}

export function theDrive({ day }: DayDetails, { fit, units }: Sheet): PageSection {
  const clock = clockOf(day);
  const { journey } = day;
  const { approach } = journey;
  const { pickUp } = fit.route.attributes;
  const fromEnd =
    fit.route.measures.shape !== 'oneWay'
      ? null
      : pickUp == null
        ? 'The walk ends elsewhere: a vehicle has to wait there, with seats for all or in turns. The times of the drive leave that out.'
        : `The walk ends elsewhere. From its end: ${pickUp}. The times of the drive leave that out.`;
  const clearance = fit.route.attributes.trailhead?.roadClearance ?? null;
  const road =
    clearance === null
      ? 'What the road needs of a vehicle is not stated: find out.'
      : {
          any: 'Any vehicle.',
          high: 'The road needs high clearance.',
          fourWheel: 'The road needs four-wheel drive.',
        }[clearance];
  if (journey.departMs === null || approach.roadMin === null) {
    return section('The drive', {
      lines: ['The drive is not known: state the meeting place, or the road’s time.', road, fromEnd],
      blanks: ['Leave the meeting place at'],
    });
  }
  const estimate = approach.minEstimated ? ' (an estimate: check it on a map)' : '';
  return section('The drive', {
    lines: [
      `Meet ${clock(journey.meetMs ?? journey.departMs)}, leave the meeting place ${clock(journey.departMs)}: ${durationText(approach.roadMin)} on the road${approach.roadKm === null ? '' : `, ${lengthText(approach.roadKm * 1000, units)}`}${estimate}, and time to get ready.`,
      journey.home === null
        ? null
        : `Back at the meeting place at ${clock(journey.home.p50Ms)}, late ${clock(journey.home.p90Ms)}.`,
      road,
      fromEnd,
      journey.tooLittleSleep && journey.sleepH !== null
        ? {
            text: `Too little sleep: about ${Math.floor(journey.sleepH * 2) / 2} h in bed before this start, and people of this age need ${journey.leastSleepH} h or more. Sleep at the trailhead, or share the driving with someone rested.`,
            source: 'Paruthi 2016, Watson 2015, from memory',
          }
        : null,
    ],
  });
}

const clockText = (hour: number): string => `${String(hour).padStart(2, '0')}:00`;

/** A mean of years: an hour with few flashes, or none, is not an hour without lightning. */
const shareText = (share: number): string => (share < 0.005 ? 'under 1 %' : percentText(share));

/** How lightning is spread over the hours in the place's own region, as background; nothing outside published regions. */
export function lightningLines(background: LightningBackground | null): PageLine[] {
  if (background === null) return [];
  const hours = background.hours
    .filter(({ hour }) => hour >= 9)
    .map(({ hour, shareOfHighest }) => `${clockText(hour)} ${shareText(shareOfHighest)}`)
    .join(', ');
  return [
    {
      text: `Background, scored nowhere: lightning by the hour in ${background.region} in this month, against ${clockText(background.highestHour)} (${background.clock}): ${hours}.`,
      source: background.source,
    },
    ...background.caveats.map((text) => ({ text, source: null })),
  ];
}
