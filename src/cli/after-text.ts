import type { AfterDay, RouteTimes } from '../app/after.ts';
import type { PredictionRecord, PredictionRow } from '../capability/prediction-record.ts';
import type {
  DeadlineOutcome,
  PassedCheckpoint,
  PlannedAgainstActual,
} from '../day/planned-against-actual.ts';
import type { OutingInput } from '../ingest/cohort-file.ts';
import { noteText } from '../text/notes.ts';
import { predictionText } from '../text/shown-words.ts';
import { climbText, clockOn, durationText, lengthText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { heightsLines, item, table, wrapped } from './table.ts';

const right = 'right' as const;

/** `12 min late`, `5 min early`, `on time` within a minute; empty where not known. */
function lateText(minutes: number | null): string {
  if (minutes === null) return '';
  const rounded = Math.round(minutes);
  if (rounded === 0) return 'on time';
  return `${durationText(rounded)} ${rounded > 0 ? 'late' : 'early'}`;
}

/** The cut-off time of a checkpoint, and whether the group was there by it: `06:47 past`. */
function cutOffText(
  { cutOffMs, isByCutOff }: PassedCheckpoint,
  clock: (ms: number | null) => string,
): string {
  if (cutOffMs === null) return '';
  return `${clock(cutOffMs)}${isByCutOff === null ? '' : isByCutOff ? ' met' : ' past'}`;
}

const OUTCOME: Record<DeadlineOutcome, string> = {
  inTime: 'below treeline again before the deadline',
  late: 'below treeline again only after the deadline',
  neverAbove: 'no ground above treeline was reached',
  notKnown:
    'not known whether the group was below treeline by the deadline: the recording, or the treeline, does not say',
};

function comparedText(compared: PlannedAgainstActual, units: UnitSystem): string[] {
  const { zone, date, belowTreeline } = compared;
  const clock = (ms: number | null) => (ms === null ? '—' : clockOn(ms, zone, date));
  const rows = compared.checkpoints.map((passed) => [
    '',
    passed.name,
    lengthText(passed.distanceM, units),
    passed.kind === 'trailhead' ? '' : clock(passed.planned.p10Ms),
    clock(passed.planned.p50Ms),
    passed.kind === 'trailhead' ? '' : clock(passed.planned.p90Ms),
    clock(passed.passedMs),
    lateText(passed.lateMin),
    passed.kind === 'trailhead' ? '' : lateText(passed.lateSinceStartMin),
    cutOffText(passed, clock),
  ]);
  const heads = [
    ...['', '', 'from start', 'early', 'middle', 'late'],
    ...['passed', 'by the clock', 'since the start', 'cut-off'],
  ];
  const times = table([heads, ...rows], ['left', 'left', right, right, right, right, right, right, right]);
  if (!compared.isOnRoute) {
    const why =
      'The recording passes no checkpoint of the plan: another route, no usable times, or cut near the meeting place.';
    return [times, wrapped(why, '  ')];
  }
  const inside = compared.checkpoints.filter(({ isInside }) => isInside !== null);
  const held = inside.filter(({ isInside }) => isInside === true).length;
  const at = belowTreeline.passedMs === null ? '' : `, at ${clock(belowTreeline.passedMs)}`;
  const whole = compared.isWholeRoute
    ? ''
    : ' The plan is of the whole route, which is not what was recorded.';
  const lines = [
    inside.length > 0
      ? `Between early and late at ${held} of ${plural(inside.length, 'checkpoint')} passed.`
      : null,
    compared.turnedBack === true
      ? `The group turned back at ${clock(compared.turnedMs)}. Farthest checkpoint going up: ${compared.highestReached?.name ?? 'none'}.`
      : null,
    compared.turnedBack === null
      ? 'Whether the group reached the highest point is not in the recording.'
      : null,
    `Deadline ${clock(belowTreeline.deadlineMs)}: ${OUTCOME[belowTreeline.outcome]}${at}.`,
    `${timeText('Moving', compared.moving)}, ${timeText('standing', compared.standing)}.${whole}`,
  ];
  return [times, ...lines.filter((text) => text !== null).map((text) => wrapped(text, '  '))];
}

const timeText = (name: string, { plannedMin, actualMin }: PlannedAgainstActual['moving']): string =>
  `${name} ${actualMin === null ? 'not known' : durationText(actualMin)} (planned ${durationText(plannedMin)})`;

const rangeText = ({ p10, p90 }: PredictionRow['predictedMin']): string =>
  `${durationText(p10)} to ${durationText(p90)}`;

function rowText(row: PredictionRow | null): string {
  if (row === null) return 'What was walked cannot be timed as a whole: it teaches no pace.';
  const side = row.inside80
    ? 'inside'
    : row.tookMin > row.predictedMin.p90
      ? 'longer than predicted, the unsafe side'
      : 'shorter than predicted';
  return `What was walked, its ground counted as trail: predicted ${rangeText(row.predictedMin)} of moving, took ${durationText(row.tookMin)}: ${side}.`;
}

function timesText(times: RouteTimes): string {
  return `moving ${durationText(times.movingMin)}, whole day ${rangeText(times.dayMin)} (from ${plural(times.clockedOutings, 'outing')} with walking times)`;
}

/** What predictions were worth, day by day and in all. */
export function recordText(record: PredictionRecord): string {
  const rows = record.rows.map((row) => [
    '',
    row.date,
    row.outingsBefore === 0 ? 'the rule alone' : plural(row.outingsBefore, 'outing'),
    durationText(row.predictedMin.p10),
    durationText(row.predictedMin.p50),
    durationText(row.predictedMin.p90),
    durationText(row.tookMin),
    row.inside80 ? 'inside' : row.tookMin > row.predictedMin.p90 ? 'longer' : 'shorter',
  ]);
  return [
    'Predictions against what happened: moving time, ground counted as trail, each from the days before it',
    ...(rows.length === 0
      ? []
      : [
          table(
            [['', '', 'from', 'early', 'middle', 'late', 'took', ''], ...rows],
            ['left', 'left', 'left', right, right, right, right, 'left'],
          ),
        ]),
    ...(record.medianErrorMin === null
      ? []
      : [`  Middle error ${durationText(record.medianErrorMin)} either way.`]),
    wrapped(predictionText(record), '  '),
  ].join('\n');
}

/** The sheet after a day: planned against actual, what people tell, what is learned. */
export function afterText(
  day: AfterDay,
  names: { readonly cohort: string; readonly route: string },
  line: OutingInput,
  units: UnitSystem,
): string {
  const { compared, outing, row, before, after, record, attribution } = day;
  const misses = line.nearMisses ?? [];
  const gain = outing.gainM === null ? 'climb not known' : `${climbText(outing.gainM, units)} of climb`;
  const moving =
    outing.movingMin === null ? 'moving time not known' : `${durationText(outing.movingMin)} moving`;
  return [
    `After the day · ${names.route} · ${compared.date}`,
    names.cohort,
    '',
    'Planned against actual',
    ...comparedText(compared, units),
    ...(line.turnedBecause == null ? [] : [wrapped(`Why it turned, as told: ${line.turnedBecause}`, '  ')]),
    ...(misses.length === 0 ? [] : ['', 'Near misses, as told', ...misses.map((text) => item(`- ${text}`))]),
    '',
    'What enters the model',
    wrapped(
      `${lengthText(outing.distanceM, units)}, ${gain}, ${moving}, class ${outing.rockClass ?? 'not counted'}, ${outing.members === null ? 'counted for everyone: no labels are stated' : `for the ${outing.members.length} labels that are named`}`,
      '  ',
    ),
    ...outing.notes.map((note) => item(`note: ${noteText(note, units)}`)),
    wrapped(rowText(row), '  '),
    '',
    `Times of ${names.route} by the group’s pace`,
    item(`before this day: ${timesText(before)}`),
    item(`with this day:   ${timesText(after)}`),
    '',
    recordText(record),
    ...heightsLines(attribution),
    '',
    'For the outings of the cohort file, which is not changed here. Write no names in it.',
    JSON.stringify(line),
  ].join('\n');
}
