import type { DayPlace, DayPlan } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { CohortRecord, Fit } from '../rank/rank-routes.ts';
import type { Verdict } from '../rank/verdict.ts';
import { litresText } from '../text/amount-text.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../text/cautions.ts';
import { notedIn } from '../text/noted-lengths.ts';
import { placeText } from '../text/place-words.ts';
import { steepGroundText } from '../text/steep-ground-text.ts';
import { questionText, shownVerdict, VERDICT_TEXT } from '../text/verdict-words.ts';
import {
  chanceText,
  climbText,
  clockOn,
  durationText,
  heightText,
  lengthText,
  percentText,
  plural,
} from '../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../units.ts';
import type { DayDetails } from './day-details.ts';
import { cannotBeMet } from './day-views.ts';
import { lightningLines } from './lightning-lines.ts';
import type { DocumentInput } from './make-document.ts';
import { type PageLine, type PageSection, type PeoplePage, section } from './people-page.ts';
import { foodLines, packLines, waterLines } from './supplies-text.ts';
import { type ClockText, cutOffCell, retreatCell, wayDownRead } from './turn-cells.ts';

const DESIGN_SOURCE = 'design';
const TRADE = 'common practice';

export const clockOf =
  ({ timeline }: DayPlan): ClockText =>
  (ms) =>
    clockOn(ms, timeline.zone, timeline.date);

/** What a verdict short of "fits" means for a plan that is printed all the same. */
const NOT_TO_BE_WALKED: Record<Verdict, string | null> = {
  fits: null,
  stretch: 'A stretch: more than the group has shown. Read “How it fits” before you decide.',
  notYet: 'Not yet a day for this group: the figures below show why. Train first, or take the lower choice.',
  incomplete: 'Not to be walked before what is missing is known: see “How it fits”.',
  ruledOut: 'Not a day for this group on this date: the figures below show why. Take the lower choice.',
};

/** Below treeline, or where the walk ends above it, back at the vehicles. */
const offHighGround = ({ timeline }: DayPlan): string =>
  timeline.storm.endsAbove ? 'back at the vehicles' : 'below treeline';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function inShort({ fit, details, spareDate, units, design }: DocumentInput): PageSection {
  const lines = [`Verdict: ${VERDICT_TEXT[fit.verdict]}. ${MEANING_OF_FITS}`];
  const warning = NOT_TO_BE_WALKED[fit.verdict];
  if (warning !== null) lines.push(warning);
  if (fit.toCheck.length > 0) lines.push(`To check first: ${fit.toCheck.join('; ')}.`);
  if (details === null) {
    return section('In short', {
      lines: [
        ...lines,
        'No day is worked out: heights under the line are not known. Add elevation tiles for its area.',
      ],
    });
  }
  const { day, facts, supplies } = details;
  const clock = clockOf(day);
  const { storm } = day.timeline;
  const top = day.places.find(({ kind }) => kind === 'high');
  const end = day.places.at(-1);
  const lateMin =
    storm.latestStartMs === null ? 0 : (day.timeline.startMs - storm.latestStartMs) / MS_PER_MIN;
  const isUnknown = fit.route.measures.aboveTreelineM === null;
  lines.push(`Start walking ${clock(day.timeline.startMs)}.`);
  if (lateMin >= 1) {
    lines.push(
      `${day.timeline.isStartChosen ? 'This start' : 'The earliest start'} is ${durationText(lateMin)} too late to be ${offHighGround(day)} in time with ${percentText(design.stormWindow.probability)} probability.`,
    );
  }
  if (day.places.some(cannotBeMet)) {
    lines.push('Some turn-back times cannot be met from this start: choose the lower way, or another start.');
  } else if (top?.cutOffMs != null) {
    const by = clock(top.cutOffMs);
    if (isUnknown) {
      lines.push(
        `Turn round by ${by} at the latest for light alone. Storms are not in this time, since treeline is not known: be off open ground by ${clock(storm.deadline.atMs)}.`,
      );
    } else if (fit.route.measures.shape === 'outAndBack') {
      lines.push(`Turn round by ${by} at the latest, wherever you are.`);
    } else {
      lines.push(
        `Leave the top by ${by} at the latest.${day.firstToLeave === null ? '' : ` Elsewhere earlier: ${clock(day.firstToLeave.byMs)} at ${lengthText(day.firstToLeave.distanceM, units)} from the start, the place farthest from treeline.`}`,
      );
    }
  }
  if (storm.latestStartMs !== null && storm.probability !== null) {
    lines.push(
      `${capital(offHighGround(day))} by ${clock(storm.deadline.atMs)}: ${chanceText(storm.probability)} likely from this start.`,
    );
  }
  if (end !== undefined) lines.push(`Back at ${clock(end.at.p50Ms)}, late ${clock(end.at.p90Ms)}.`);
  lines.push(`Water: ${litresText(supplies.water.each.packedL, units)} each.`);
  lines.push(
    facts.lowerChoice === null
      ? 'A lower choice for the same day: none among the routes given; name one.'
      : `A lower choice for the same day: ${facts.lowerChoice.name} (${lengthText(facts.lowerChoice.distanceM, units)}${facts.lowerChoice.gainM === null ? '' : `, ${climbText(facts.lowerChoice.gainM, units)} up`}).`,
    spareDate === null
      ? 'Spare date: name one.'
      : `Spare date: ${spareDate.date}${spareDate.isSuggestion ? ' (suggested: the next week on which the route is no worse)' : ''}.`,
  );
  return section('In short', {
    lines,
    blanks: [
      ...(facts.lowerChoice === null ? ['Lower choice'] : []),
      ...(spareDate === null ? ['Spare date'] : []),
    ],
  });
}

function theRoute({ fit, units }: DocumentInput): PageSection {
  const { measures, attributes, treeline, notes } = fit.route;
  const band = (value: { value: number; low: number; high: number } | null) =>
    value === null
      ? 'not known'
      : `${climbText(value.value, units)} (${climbText(value.low, units)} to ${climbText(value.high, units)})`;
  const steep = steepGroundText(measures.steepGround, units);
  const shape = { outAndBack: 'out and back', loop: 'a loop', oneWay: 'one way' }[measures.shape];
  const above =
    measures.aboveTreelineM === null
      ? 'Above treeline: not known.'
      : `Above treeline: ${lengthText(measures.aboveTreelineM, units)}${measures.treelineM === null ? '' : `, treeline ${heightText(measures.treelineM, units)} (${treeline.text})`}.`;
  return section('The route', {
    lines: [
      `${lengthText(measures.distanceM, units)}, ${shape}; climb ${band(measures.gainM)}; descent ${band(measures.lossM)}; highest point ${measures.highM === null ? 'not known' : heightText(measures.highM, units)}. Figures in brackets are how far the terrain data leave it open.`,
      above,
      `Class ${attributes.rockClass ?? 'not stated'}; ground ${attributes.surface ?? 'not stated'}.`,
      ...(steep === null
        ? []
        : [
            { text: `Steep ground: ${steep}`, source: 'elevation tiles' },
            { text: 'Most snow slides start on 30 to 50°.', source: 'avalanche.org' },
          ]),
      attributes.notes == null ? null : `From the coordinator: ${attributes.notes}`,
      ...notes.map(({ text }) => `Note: ${notedIn(text, units)}.`),
    ],
  });
}

function howItFits({ fit }: DocumentInput): PageSection {
  return section('How it fits', {
    table: {
      columns: ['Question', 'Verdict', 'Why'],
      rows: fit.judgements.map((judgement) => [
        questionText(judgement.name),
        shownVerdict(judgement),
        judgement.reason,
      ]),
      marked: fit.judgements.flatMap(({ verdict }, i) => (verdict === 'fits' ? [] : [i])),
    },
    lines: (fit.verdict === 'notYet' || fit.verdict === 'stretch' ? fit.gap : []).map(
      ({ text }) => `Would help: ${text}.`,
    ),
    ticks: fit.toCheck.map((text) => `Check: ${text}`),
  });
}

function theDay({ day }: DayDetails, units: UnitSystem, design: Design): PageSection {
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

function storms({ day, facts }: DayDetails, { fit, units, design }: DocumentInput): PageSection {
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
  return section('Storms and turning round', { lines: [...lines, ...lightningLines(facts.lightning)] });
}

function light({ day }: DayDetails, { record }: DocumentInput): PageSection {
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

function theDrive({ day }: DayDetails, { fit, units }: DocumentInput): PageSection {
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

function provisions({ supplies }: DayDetails, units: UnitSystem, design: Design): PageSection[] {
  return [
    section('Water', { lines: waterLines(supplies, units, design) }),
    section('Food', { lines: foodLines(supplies, units, design) }),
    section('Packs', { lines: packLines(supplies, units, design) }),
  ];
}

const WHO = { each: 'each', group: 'once for the group', adult: 'an adult' } as const;

function theKit({ kit }: DayDetails): PageSection {
  return section('Kit', {
    lines: ['Who carries what is shared: write it in.'],
    table: {
      columns: ['What', 'How many', 'Carried by', 'What this day asks', 'Name or label'],
      rows: kit.items.map(({ what, count, who, why }) => [
        what,
        String(count),
        WHO[who],
        why,
        who === 'each' ? '–' : '',
      ]),
      marked: [],
    },
  });
}

function walkingTimes({ fit, paceFrom }: DocumentInput): PageSection {
  const { timeline } = fit;
  const { clockedOutings } = paceFrom;
  const slowing = timeline?.slowing;
  return section('Walking time beside published rules', {
    lines: [
      `Pace from ${plural(clockedOutings, 'outing')} with walking times of the group${clockedOutings === 0 ? ' (the trade rule, with a wide doubt)' : ''}; stops ${paceFrom.stopsMinPerHour} min an hour. ${paceFrom.checkedOn}`,
      slowing !== undefined && slowing.ground > 1.02
        ? `The ground (trail is quicker) makes it ${percentText(slowing.ground - 1)} longer.`
        : null,
      slowing !== undefined && slowing.altitude > 1.02
        ? `Thinner air than on the training days makes the climbs ${percentText(slowing.altitude - 1)} longer.`
        : null,
      'Stops are not counted in this table; the rules are fitted to nobody.',
    ],
    ...(timeline === null
      ? {}
      : {
          table: {
            columns: ['By', 'Moving time'],
            rows: [
              ['This group, as in the day above', durationText(timeline.movingMin)],
              ...timeline.rules.map(({ name, movingMin }) => [name, durationText(movingMin)]),
            ],
            marked: [0],
          },
        }),
  });
}

function partyLine({ cohort }: CohortRecord): string {
  const leaders = cohort.leaders == null ? 'leaders not stated' : plural(cohort.leaders, 'leader');
  return `${cohort.name}: ${plural(cohort.participants, 'participant')}, ${leaders}.`;
}

/** The sheet that the leader carries and the office keeps: everything about the day but the navigator's legs. */
export function leaderSheet(input: DocumentInput): PeoplePage {
  const { fit, record, details, units, design } = input;
  const first = inShort(input);
  return {
    title: titleOf(fit, input.date),
    reader: 'leaders',
    sections: [
      { ...first, lines: [{ text: partyLine(record), source: null }, ...first.lines] },
      ...(details === null
        ? []
        : [
            theDay(details, units, design),
            storms(details, input),
            light(details, input),
            theDrive(details, input),
          ]),
      howItFits(input),
      theRoute(input),
      ...(details === null ? [] : [...provisions(details, units, design), theKit(details)]),
      walkingTimes(input),
      section('Cautions', {
        lines: [
          ...CAUTIONS,
          'More of them stand on the morning card and on the page for an emergency: carry both.',
        ],
      }),
    ],
  };
}

export const titleOf = (fit: Fit, date: string): string => `Trip plan · ${fit.route.name} · ${date}`;

export const sourcesNote = `Marked “${DESIGN_SOURCE}”: this program’s own figure, which may be changed in its settings. “${TRADE}”: a rule of the trade without a published source.`;
