import type { CheckpointKind } from '../day/arrivals.ts';
import type { Timeline } from '../day/walk-day.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { Judgement } from '../fit/criterion.ts';
import type { CohortRecord, Fit } from '../fit/rank-routes.ts';
import {
  chanceText,
  clockOn,
  durationText,
  heightText,
  lengthText,
  percentText,
  plural,
} from '../fit/words.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import type { UnitSystem } from '../units.ts';
import { measureText } from './measure-text.ts';
import { footText, questionText, VERDICT_TEXT } from './shortlist-text.ts';
import { table, wrapped } from './table.ts';

const CHECKPOINT: Record<CheckpointKind, string> = {
  trailhead: 'trailhead, start',
  treelineUp: 'treeline, going up',
  high: 'highest point',
  treelineDown: 'treeline, below it again',
  end: 'end',
};

const MILESTONE: Record<Fit['milestones'][number]['name'], string> = {
  distanceDay: 'a day with the distance',
  gainDay: 'a day with the climb',
  bothDay: 'a day with both',
};

function dayText(timeline: Timeline, isTreelineOpen: boolean, units: UnitSystem): string {
  const { zone, storm, date } = timeline;
  const clock = (ms: number) => clockOn(ms, zone, date);
  const rows = timeline.checkpoints.map(({ kind, distanceM, elevationM, at }) => [
    CHECKPOINT[kind],
    lengthText(distanceM, units),
    elevationM === null ? '' : heightText(elevationM, units),
    ...(kind === 'trailhead'
      ? ['', clock(timeline.startMs), '']
      : [clock(at.p10Ms), clock(at.p50Ms), clock(at.p90Ms)]),
  ]);
  const right = 'right' as const;
  const lines = [
    table(
      [['', 'from start', 'height', 'early', 'middle', 'late'], ...rows].map((row) => ['', ...row]),
      ['left', 'left', right, right, right, right, right],
    ),
    '  Early and late: one day in ten is earlier, one in ten later. Stops are included, and on a day of over four moving hours a meal at the top.',
  ];
  const deadline = clock(storm.deadline.atMs);
  const usual =
    storm.deadline.setBy === 'program'
      ? ` (set by the program; usually ${clock(storm.deadline.usualMs)})`
      : ` (${storm.deadline.usualText})`;
  if (storm.probability !== null && storm.latestStartMs !== null) {
    lines.push(
      `  Deadline to be below treeline: ${deadline}${usual}. From a start at ${clock(timeline.startMs)} it is met with ${chanceText(storm.probability)} probability.`,
      storm.latestStartMs >= timeline.earliestStartMs
        ? `  Latest start: ${clock(storm.latestStartMs)}. Earliest start: ${clock(timeline.earliestStartMs)}.`
        : `  No start on this day meets the deadline nine times in ten; the earliest is ${clock(timeline.earliestStartMs)}.`,
    );
  } else {
    lines.push(`  Deadline for open ground: ${deadline}${usual}.`);
    if (isTreelineOpen)
      lines.push(
        '  Treeline is not known: this timetable does not keep the storm window. State the treeline.',
      );
  }
  const sun = [
    timeline.civilDawnMs === null ? null : `first light ${clock(timeline.civilDawnMs)}`,
    timeline.sunriseMs === null ? null : `sunrise ${clock(timeline.sunriseMs)}`,
    timeline.sunsetMs === null ? null : `sunset ${clock(timeline.sunsetMs)}`,
    timeline.civilDuskMs === null ? null : `dark ${clock(timeline.civilDuskMs)}`,
  ].filter((text) => text !== null);
  if (sun.length > 0)
    lines.push(
      `  ${sun.join(', ')} (civil twilight; hills around not counted). Times in ${zone}, UTC${rfc3339(timeline.startMs, zone).slice(-6)}.`,
    );
  return lines.join('\n');
}

/** What makes the day longer than the same walk on trail, in words; `null` where nothing does. */
function slowingText({ ground, altitude }: Timeline['slowing']): string | null {
  const parts = [
    ground > 1.02 ? `the ground (trail is quicker) makes it ${percentText(ground - 1)} longer` : null,
    altitude > 1.02
      ? `thinner air than on the training days makes the climbs ${percentText(altitude - 1)} longer`
      : null,
  ].filter((part) => part !== null);
  return parts.length > 0 ? `In these times: ${parts.join('; ')}.` : null;
}

/** The verdict as a word; what was not stated is to be checked, and the aim is no question of yes or no. */
function shownVerdict({ name, verdict, toCheck }: Judgement): string {
  if (name === 'aim') return '—';
  return verdict === 'fits' && toCheck !== undefined ? 'to check' : VERDICT_TEXT[verdict];
}

/** A first plan for people. */
export function planText(plan: TripPlan, fit: Fit, record: CohortRecord, units: UnitSystem): string {
  const { cohort } = record;
  const rows = fit.judgements.map((judgement) =>
    wrapped(
      `${questionText(judgement.name).padEnd(16)} ${shownVerdict(judgement).padEnd(10)} ${judgement.reason}`,
      '  ',
      100,
      ' '.repeat(30),
    ),
  );
  const { timeline } = fit;
  const rules =
    timeline === null
      ? []
      : [
          ['', durationText(timeline.movingMin), 'This group, as in the day above'],
          ...timeline.rules.map((rule) => ['', durationText(rule.movingMin), rule.name]),
        ];
  const milestones = fit.milestones.map(
    ({ name, done, date }) => `  ${MILESTONE[name].padEnd(24)} ${done ? `done on ${date}` : 'open'}`,
  );
  const sections = [
    `Trip plan · ${fit.route.name} · ${plan.date}`,
    `${cohort.name}: ${plural(cohort.participants, 'participant')}, ${cohort.leaders == null ? 'leaders not stated' : plural(cohort.leaders, 'leader')}`,
    `Verdict: ${VERDICT_TEXT[fit.verdict]}`,
    '',
    'The route',
    measureText(fit.route, units),
    ...(fit.route.attributes.notes == null
      ? []
      : [wrapped(`from the coordinator: ${fit.route.attributes.notes}`, '  ')]),
    '',
    'How it fits',
    ...rows,
    ...(fit.verdict === 'notYet' || fit.verdict === 'stretch' ? fit.gap : []).map((gap) =>
      wrapped(`would help: ${gap.text}`, '  ', 100, '    '),
    ),
    ...(fit.toCheck.length > 0 ? [wrapped(`to check: ${fit.toCheck.join('; ')}`, '  ', 100, '    ')] : []),
    '',
    'Training days, everyone who goes',
    ...milestones,
    '',
    'The day',
    fit.timeline === null
      ? '  not computed: no heights are known under the line'
      : dayText(fit.timeline, fit.route.measures.aboveTreelineM === null, units),
    wrapped(
      `Pace from ${plural(plan.paceFrom.clockedOutings, 'outing')} with walking times of the group${plan.paceFrom.clockedOutings === 0 ? ' (the trade rule, with a wide doubt)' : ''}; stops ${plan.paceFrom.stopsMinPerHour} min an hour.`,
      '  ',
    ),
    ...(timeline === null ? [] : [slowingText(timeline.slowing)]).flatMap((text) =>
      text === null ? [] : [wrapped(text, '  ')],
    ),
    '',
    'Moving time, stops not counted: this group beside published rules, which are fitted to nobody',
    table(rules, ['left', 'right', 'left']),
    '',
    'Not in this plan yet: turn-back times, water, food, kit, route card, dated training plan. Work them out by hand.',
    '',
    footText(),
  ];
  return sections.join('\n');
}
