import type { CheckpointKind } from '../day/arrivals.ts';
import type { Timeline } from '../day/walk-day.ts';
import { rfc3339 } from '../earth/local-time.ts';
import type { CohortRecord, Fit } from '../fit/rank-routes.ts';
import { chanceText, clockOn, durationText, heightText, lengthText, plural } from '../fit/words.ts';
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

function dayText(timeline: Timeline, units: UnitSystem): string {
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
    '  Early and late: one day in ten is earlier, one in ten later. Stops and one meal are included.',
  ];
  const deadline = clock(storm.deadline.atMs);
  const usual =
    storm.deadline.setBy === 'program'
      ? ` (set by the program; usually ${clock(storm.deadline.usualMs)})`
      : '';
  if (storm.probability !== null && storm.latestStartMs !== null) {
    lines.push(
      `  Deadline to be below treeline: ${deadline}${usual}. From a start at ${clock(timeline.startMs)} it is met with ${chanceText(storm.probability)} probability.`,
      storm.latestStartMs >= timeline.earliestStartMs
        ? `  Latest start: ${clock(storm.latestStartMs)}. Earliest start: ${clock(timeline.earliestStartMs)}.`
        : `  No start on this day meets the deadline nine times in ten; the earliest is ${clock(timeline.earliestStartMs)}.`,
    );
  } else {
    lines.push(`  Deadline for open ground: ${deadline}${usual}.`);
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

/** A first plan for people. */
export function planText(plan: TripPlan, fit: Fit, record: CohortRecord, units: UnitSystem): string {
  const { cohort } = record;
  const rows = fit.judgements.map((judgement) =>
    wrapped(
      `${questionText(judgement.name).padEnd(16)} ${VERDICT_TEXT[judgement.verdict].padEnd(10)} ${judgement.reason}`,
      '  ',
      100,
      ' '.repeat(30),
    ),
  );
  const rules = plan.rules.map((rule) => ['', durationText(rule.movingMin), rule.name]);
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
    ...fit.gap.map((gap) => wrapped(`would help: ${gap.text}`, '  ', 100, '    ')),
    ...(fit.toCheck.length > 0 ? [wrapped(`to check: ${fit.toCheck.join('; ')}`, '  ', 100, '    ')] : []),
    '',
    'The day',
    fit.timeline === null
      ? '  not computed: no heights are known under the line'
      : dayText(fit.timeline, units),
    wrapped(
      `Pace from ${plural(plan.paceFrom.clockedOutings, 'clocked outing')} of the group${plan.paceFrom.clockedOutings === 0 ? ' (the trade rule, with a wide doubt)' : ''}; stops ${plan.paceFrom.stopsMinPerHour} min an hour.`,
      '  ',
    ),
    '',
    'What published rules say of the moving time, stops not counted (a cross-check, not this group)',
    table(rules, ['left', 'right', 'left']),
    '',
    'Not in this plan yet: turn-back times, water, food, kit, route card, training days. Work them out by hand.',
    '',
    footText(),
  ];
  return sections.join('\n');
}
