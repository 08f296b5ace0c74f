import { cannotBeMet } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import type { DayDetails } from '../plan/day-details.ts';
import type { CohortRecord } from '../rank/readiness.ts';
import type { Verdict } from '../rank/verdict.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../text/cautions.ts';
import { questionText, reasonText, shownVerdict } from '../text/criteria/index.ts';
import { helpsOf, questionsOf } from '../text/fit-words.ts';
import { bandText } from '../text/measure-words.ts';
import { noteText } from '../text/notes.ts';
import { steepGroundText } from '../text/steep-ground-text.ts';
import { VERDICT_TEXT } from '../text/verdict-words.ts';
import {
  chanceText,
  climbText,
  durationText,
  heightText,
  lengthText,
  percentText,
  plural,
} from '../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../units.ts';
import { kitLines } from './kit-text.ts';
import { light, offHighGround, type Sheet, storms, theDay, theDrive } from './leader-day.ts';
import { citing, type Lines, type PageSection, type PeoplePage, section } from './people-page.ts';
import { foodLines, packLines, waterLines, waterShort } from './supplies-text.ts';
import { clockOf } from './turn-cells.ts';

/** What a verdict short of "fits" means for a plan that is printed all the same. */
const NOT_TO_BE_WALKED: Record<Verdict, string | null> = {
  fits: null,
  stretch: 'A stretch: more than the group has shown. Read “How it fits” before you decide.',
  notYet: 'Not yet a day for this group: the figures below show why. Train first, or take the lower choice.',
  incomplete: 'Not to be walked before what is missing is known: see “How it fits”.',
  ruledOut: 'Not a day for this group on this date: the figures below show why. Take the lower choice.',
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** When to turn round, in a sentence; `null` where nothing has to be left in time. */
function turnRoundText({ day }: DayDetails, { fit, units }: Sheet): string | null {
  const clock = clockOf(day);
  const { places, firstToLeave, timeline } = day;
  const { shape, aboveTreelineM } = fit.route.measures;
  if (places.some(cannotBeMet)) {
    return 'Some turn-back times cannot be met from this start: choose the lower way, or another start.';
  }
  const byMs = places.find(({ kind }) => kind === 'high')?.cutOffMs;
  if (byMs == null) return null;
  const by = clock(byMs);
  if (aboveTreelineM === null) {
    return `Turn round by ${by} at the latest for light alone. Storms are not in this time, since treeline is not known: be off open ground by ${clock(timeline.storm.deadline.atMs)}.`;
  }
  if (shape === 'outAndBack')
    return `Leave the top by ${by} at the latest. Lower down the times in the table are earlier: turn back at each.`;
  const earlier =
    firstToLeave === null
      ? ''
      : ` Elsewhere earlier: ${clock(firstToLeave.byMs)} at ${lengthText(firstToLeave.distanceM, units)} from the start, the place farthest from treeline.`;
  return `Leave the top by ${by} at the latest.${earlier}`;
}

/** The day's own times in a sentence each. */
function timesInShort(details: DayDetails, sheet: Sheet): Lines {
  const { day, supplies } = details;
  const clock = clockOf(day);
  const { startMs, isStartChosen, storm } = day.timeline;
  const end = day.places.at(-1);
  const lateMin = storm.latestStartMs === null ? 0 : (startMs - storm.latestStartMs) / MS_PER_MIN;
  return [
    `Start walking ${clock(startMs)}.${day.journey.wakeMs === null ? '' : ` Get up ${clock(day.journey.wakeMs)}.`}`,
    lateMin >= 1
      ? `${isStartChosen ? 'This start' : 'The earliest start'} is ${durationText(lateMin)} too late to be ${offHighGround(day)} in time with ${percentText(sheet.design.stormWindow.probability)} probability.`
      : null,
    turnRoundText(details, sheet),
    storm.latestStartMs !== null && storm.probability !== null
      ? `${capital(offHighGround(day))} by ${clock(storm.deadline.atMs)}: ${chanceText(storm.probability)} likely from this start.`
      : null,
    end === undefined ? null : `Back at ${clock(end.at.p50Ms)}, late ${clock(end.at.p90Ms)}.`,
    `Ring the office from the trailhead when back: unheard of by ${clock(day.callOutMs)}, it calls for help.`,
    waterShort(supplies, sheet.units),
  ];
}

function inShort(sheet: Sheet): PageSection {
  const { record, fit, details, spareDate, lowerChoice, units } = sheet;
  const questions = questionsOf(fit, units);
  const lines = [
    partyLine(record),
    `Verdict: ${VERDICT_TEXT[fit.verdict]}. ${MEANING_OF_FITS}`,
    NOT_TO_BE_WALKED[fit.verdict],
    questions.length > 0 ? `To check first: ${questions.join('; ')}.` : null,
  ];
  if (details === null) {
    const why =
      'No day is worked out: heights under the line are not known. Add elevation tiles for its area.';
    return section('In short', { lines: [...lines, why] });
  }
  return section('In short', {
    lines: [
      ...lines,
      ...timesInShort(details, sheet),
      lowerChoice === null
        ? 'A lower choice for the same day: none among the routes given; name one.'
        : `A lower choice for the same day: ${lowerChoice.name} (${lengthText(lowerChoice.distanceM, units)}${lowerChoice.gainM === null ? '' : `, ${climbText(lowerChoice.gainM, units)} up`}).`,
      spareDate === null
        ? 'Spare date: name one.'
        : `Spare date: ${spareDate.date}${spareDate.isSuggestion ? ' (suggested: the next week on which the route is no worse)' : ''}.`,
    ],
    blanks: [
      ...(lowerChoice === null ? ['Lower choice'] : []),
      ...(spareDate === null ? ['Spare date'] : []),
    ],
  });
}

function theRoute({ fit, units }: Sheet): PageSection {
  const { measures, attributes, treeline, notes } = fit.route;
  const steep = steepGroundText(measures.steepGround, units);
  const shape = { outAndBack: 'out and back', loop: 'a loop', oneWay: 'one way' }[measures.shape];
  const above =
    measures.aboveTreelineM === null
      ? 'Above treeline: not known.'
      : `Above treeline: ${lengthText(measures.aboveTreelineM, units)}${measures.treelineM === null ? '' : `, treeline ${heightText(measures.treelineM, units)} (${treeline.text})`}.`;
  return section('The route', {
    lines: [
      `${lengthText(measures.distanceM, units)}, ${shape}; climb ${bandText(measures.gainM, units)}; descent ${bandText(measures.lossM, units)}; highest point ${measures.highM === null ? 'not known' : heightText(measures.highM, units)}. Figures in brackets are how far the terrain data leave it open.`,
      above,
      `Class ${attributes.rockClass ?? 'not stated'}; ground ${attributes.surface ?? 'not stated'}.`,
      ...(steep === null
        ? []
        : [
            ...citing('elevation tiles', `Steep ground: ${steep}`),
            ...citing('avalanche.org', 'Most snow slides start on 30 to 50°.'),
          ]),
      attributes.notes == null ? null : `From the coordinator: ${attributes.notes}`,
      ...notes.map((note) => `Note: ${noteText(note, units)}.`),
    ],
  });
}

function howItFits({ fit, units }: Sheet): PageSection {
  return section('How it fits', {
    table: {
      columns: ['Question', 'Verdict', 'Why'],
      rows: fit.judgements.map((judgement) => [
        questionText(judgement.name),
        shownVerdict(judgement),
        reasonText(judgement, units),
      ]),
      marked: fit.judgements.flatMap(({ verdict }, i) => (verdict === 'fits' ? [] : [i])),
    },
    lines: helpsOf(fit, units).map((text) => `Would help: ${text}.`),
    ticks: questionsOf(fit, units).map((text) => `Check: ${text}`),
  });
}

const WHO = { each: 'each', group: 'once for the group', adult: 'an adult' } as const;

function theKit({ kit }: DayDetails, units: UnitSystem, design: Design): PageSection {
  return section('Kit', {
    lines: ['Who carries what is shared: write it in.'],
    table: {
      columns: ['What', 'How many', 'Carried by', 'What this day asks', 'Name or label'],
      rows: kitLines(kit, units, design).map(({ what, count, who, why }) => [
        what,
        String(count),
        WHO[who],
        why,
        who === 'each' ? '–' : '',
      ]),
    },
  });
}

/** On what the pace was checked: stands on every plan. */
export const PACE_CHECKED_ON =
  'The pace model was checked on simulated groups and on one recorded day of one fit adult, never on minors.';

function walkingTimes({ fit, paceFrom }: Sheet): PageSection {
  const { timeline } = fit;
  const { clockedOutings } = paceFrom;
  const slowing = timeline?.slowing;
  return section('Walking time beside published rules', {
    lines: [
      `Pace from ${plural(clockedOutings, 'outing')} with walking times of the group${clockedOutings === 0 ? ' (the trade rule, with a wide doubt)' : ''}; stops ${paceFrom.stopsMinPerHour} min an hour. ${PACE_CHECKED_ON}`,
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
export function leaderSheet(title: string, sheet: Sheet): PeoplePage {
  const { details, units, design } = sheet;
  const ofDay = (...parts: readonly ((day: DayDetails) => PageSection)[]) =>
    details === null ? [] : parts.map((part) => part(details));
  return {
    title,
    reader: 'leaders',
    sections: [
      inShort(sheet),
      ...ofDay(
        (day) => theDay(day, units, design),
        (day) => storms(day, sheet),
        (day) => light(day, sheet),
        (day) => theDrive(day, sheet),
      ),
      howItFits(sheet),
      theRoute(sheet),
      ...ofDay(
        ({ supplies }) => section('Water', { lines: waterLines(supplies, units, design) }),
        ({ supplies }) => section('Food', { lines: foodLines(supplies, units, design) }),
        ({ supplies }) => section('Packs', { lines: packLines(supplies, units, design) }),
        (day) => theKit(day, units, design),
      ),
      walkingTimes(sheet),
      section('Cautions', {
        lines: [
          ...CAUTIONS,
          'More of them stand on the morning card and on the page for an emergency: carry both.',
        ],
      }),
    ],
  };
}
