/** What the leaders' sheet says of the day itself: its times, storms, light and drive. */
import type { DayPlan } from '../day/day-plan.ts';
import type { LightningBackground } from '../day/lightning-background.ts';
import type { Design } from '../design.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { DayDetails } from '../plan/day-details.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import { placeText } from '../text/place-words.ts';
import { chanceText, durationText, heightText, lengthText, percentText } from '../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../units.ts';
import { citing, type Lines, type PageSection, section, TRADE } from './people-page.ts';
import { clockOf, cutOffCell, retreatCell, wayDownRead } from './turn-cells.ts';

/** A plan, and how it is to be read. */
export type Sheet = TripPlan & { readonly design: Design; readonly units: UnitSystem };

/** Below treeline, or where the walk ends above it, back at the vehicles. */
export const offHighGround = ({ timeline }: DayPlan): string =>
  timeline.storm.endsAbove ? 'back at the vehicles' : 'below treeline';

/** Places, times, turn-back and retreat times. */
export function theDay({ day }: DayDetails, units: UnitSystem, design: Design): PageSection {
  const clock = clockOf(day);
  return section('The day', {
    lines: [
      'Early, middle, late: one day in ten is earlier than early, one in ten later than late. Stops are counted, and on a long day a meal at the top.',
      `Turn back where you are if you are not at a place by its time. The times leave the rest of the climb, the stops and the way down, done with ${percentText(design.stormWindow.probability)} probability, counted for a group that is slow today.`,
      wayDownRead(day.places.map((place) => retreatCell(place, clock))),
    ],
    table: {
      columns: [
        ...['Place', 'From start', 'Height', 'Early', 'Middle', 'Late'],
        ...['Turn back if not here by', 'Start down from here by'],
      ],
      rows: day.places.map((place) => [
        placeText(place, units),
        lengthText(place.distanceM, units),
        place.elevationM === null ? '–' : heightText(place.elevationM, units),
        ...(place.kind === 'trailhead'
          ? ['–', clock(day.timeline.startMs), '–']
          : [clock(place.at.p10Ms), clock(place.at.p50Ms), clock(place.at.p90Ms)]),
        cutOffCell(place, clock),
        retreatCell(place, clock),
      ]),
      marked: day.places.flatMap(({ kind }, i) => (kind === 'high' ? [i] : [])),
    },
  });
}

/** What a deadline asks of the day that goes above treeline. */
function windowLines(day: DayPlan, { fit, units, design }: Sheet): Lines {
  const clock = clockOf(day);
  const { timeline, firstToLeave, farthest } = day;
  const { latestStartMs, probability } = timeline.storm;
  if (fit.route.measures.aboveTreelineM === null) {
    return [
      'Treeline is not known, so no turn-back time for storms can be given: state its height for the route, or for the program.',
    ];
  }
  if (latestStartMs === null || probability === null) {
    return [
      'No ground above treeline: turn-back times are for light, heat, or being back before help is called (home).',
    ];
  }
  const wanted = percentText(design.stormWindow.probability);
  const lateMin = (timeline.startMs - latestStartMs) / MS_PER_MIN;
  const top = day.places.find(({ kind }) => kind === 'high');
  return [
    `From a start at ${clock(timeline.startMs)} the group is ${offHighGround(day)} by then with ${chanceText(probability)} probability.`,
    day.shortByMin === null || timeline.isStartChosen
      ? `Latest start for ${wanted}: ${clock(latestStartMs)}${timeline.isStartChosen ? '.' : `; earliest start ${clock(timeline.earliestStartMs)}.`}`
      : `This route cannot be done in the window: ${wanted} would take a start ${durationText(day.shortByMin)} before the earliest one (${clock(timeline.earliestStartMs)}).`,
    timeline.isStartChosen && lateMin >= 1
      ? `This start is ${durationText(lateMin)} later than the latest one for ${wanted}: start earlier, or choose another day.`
      : null,
    day.backFromTopByMs !== null && top?.cutOffMs != null
      ? `Leave the top by ${clock(top.cutOffMs)} to go on the planned way; later than that go back the way you came, by ${clock(day.backFromTopByMs)}.`
      : null,
    firstToLeave === null
      ? null
      : `The place to leave first lies ${lengthText(firstToLeave.distanceM, units)} from the start: by ${clock(firstToLeave.byMs)}, back or on, whichever is nearer to treeline.`,
    farthest === null
      ? null
      : `The longest way to treeline: ${durationText(farthest.minutes.p50)}, late ${durationText(farthest.minutes.p90)}, from ${lengthText(farthest.distanceM, units)} after the start, ${farthest.way === 'back' ? 'back the way you came' : 'on along the route'}.`,
    'Late at a checkpoint mostly means slow today. Of simulated days that came to the top in the last five minutes before its time, about eight in ten were below treeline in time: if you are slow, turn earlier.',
  ];
}

export function storms({ day }: DayDetails, sheet: Sheet): PageSection {
  const clock = clockOf(day);
  const { deadline } = day.timeline.storm;
  const isSet = deadline.setBy === 'program';
  const usual = isSet ? `set by the program; usually ${clock(deadline.usualMs)}` : deadline.usualText;
  const later = deadline.atMs > deadline.usualMs ? ' Later than the usual one: storms may come first.' : '';
  const text = `Deadline to be ${offHighGround(day)}: ${clock(deadline.atMs)} (${usual}).${later}`;
  return section('Storms and turning round', {
    lines: [
      { text, source: isSet ? null : TRADE },
      ...windowLines(day, sheet),
      ...lightningLines(sheet.lightning),
    ],
  });
}

const POLAR = {
  day: 'The sun does not set on this day.',
  night: 'The sun does not rise on this day.',
} as const;

export function light({ day }: DayDetails, { record }: Sheet): PageSection {
  const clock = clockOf(day);
  const { timeline, daylight } = day;
  const isDark =
    record.cohort.headlamps !== true &&
    timeline.civilDawnMs !== null &&
    timeline.startMs < timeline.civilDawnMs;
  const sun = (
    [
      ['first light', timeline.civilDawnMs],
      ['sunrise', timeline.sunriseMs],
      ['sunset', timeline.sunsetMs],
      ['dark', timeline.civilDuskMs],
    ] as const
  ).flatMap(([name, ms]) => (ms === null ? [] : `${name} ${clock(ms)}`));
  const { p50, p90 } = daylight.headlampMin;
  return section('Light', {
    lines: [
      timeline.polar === null ? null : POLAR[timeline.polar],
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

const ROAD = {
  any: 'Any vehicle.',
  high: 'The road needs high clearance.',
  fourWheel: 'The road needs four-wheel drive.',
} as const;

export function theDrive({ day }: DayDetails, { fit: { route }, units }: Sheet): PageSection {
  const clock = clockOf(day);
  const { journey } = day;
  const { approach } = journey;
  const { pickUp, trailhead } = route.attributes;
  const fromEnd =
    route.measures.shape !== 'oneWay'
      ? null
      : pickUp == null
        ? 'The walk ends elsewhere: a vehicle has to wait there, with seats for all or in turns. The times of the drive leave that out.'
        : `The walk ends elsewhere. From its end: ${pickUp}. The times of the drive leave that out.`;
  const clearance = trailhead?.roadClearance ?? null;
  const road =
    clearance === null ? 'What the road needs of a vehicle is not stated: find out.' : ROAD[clearance];
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
export function lightningLines(background: LightningBackground | null): Lines {
  if (background === null) return [];
  const hours = background.hours
    .filter(({ hour }) => hour >= 9)
    .map(({ hour, shareOfHighest }) => `${clockText(hour)} ${shareText(shareOfHighest)}`)
    .join(', ');
  return [
    ...citing(
      background.source,
      `Background, scored nowhere: lightning by the hour in ${background.region} in this month, against ${clockText(background.highestHour)} (${background.clock}): ${hours}.`,
    ),
    ...background.caveats,
  ];
}
