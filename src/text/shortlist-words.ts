/** A shortlist in words, for the terminal and for pages. */
import { type Journey, journeyOf } from '../day/journey.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Fit } from '../rank/fit.ts';
import { scoreParts } from '../rank/score.ts';
import { VERDICTS, type Verdict, verdictRank } from '../rank/verdict.ts';
import { MS_PER_MIN } from '../units.ts';
import { questionText } from './criteria/index.ts';
import { VERDICT_TEXT } from './verdict-words.ts';
import { chanceText, clockOn, durationText } from './words.ts';

/** Whether a route can be chosen on this date: nobody chooses among the others, by score or place. */
export const canBeChosen = ({ verdict }: Pick<Fit, 'verdict'>): boolean =>
  verdictRank(verdict) <= verdictRank('notYet');

/** What the times of a day's line are. */
export const TIMES_READ =
  'Times: as expected, and in brackets the late ones that are kept nine times in ten.';

/** What a reader of a shortlist has to know. */
export const HOW_TO_READ = `How to read it: by verdict first, then by score. Fits: within what the group has shown. Stretch: a little beyond it. Not yet: further, and training could change it. Incomplete: something is not known. Ruled out: training could not change it. Score: 1 at best; it orders, and is no measure of safety. Places: where a route stands nine times in ten of the trials. ${TIMES_READ}`;

/** The drive around the day, for routes that can be chosen; `null` where heights are missing. */
export function driveOf(fit: Fit, cohort: Pick<CohortInput, 'ageBand'>, design: Design): Journey | null {
  const { approach, timeline } = fit;
  const end = timeline?.checkpoints.find(({ kind }) => kind === 'end')?.at;
  if (!canBeChosen(fit) || timeline === null || end === undefined) return null;
  return journeyOf(timeline, end, approach, cohort.ageBand ?? '12-14', design.journey);
}

/** What a start so early makes of the night before; `null` where it is long enough or not known. */
export function shortNightText(drive: Journey | null): string | null {
  if (drive === null || !drive.tooLittleSleep || drive.sleepH === null) return null;
  return `short night from the meeting place: about ${Math.floor(drive.sleepH * 2) / 2} h in bed, and people of this age need ${drive.leastSleepH} h or more`;
}

/**
 * The day's times in a line, late ones in brackets; `null` where none can be given.
 *
 * @param departMs when to leave the meeting place; `null`: not known
 */
export function dayText(fit: Fit, departMs: number | null): string | null {
  const { timeline } = fit;
  if (timeline === null) return null;
  const { zone, storm, date } = timeline;
  const clock = (ms: number) => clockOn(ms, zone, date);
  const at = (kind: string) => timeline.checkpoints.find((checkpoint) => checkpoint.kind === kind)?.at;
  const middle = (kind: string, label: string) => {
    const moment = at(kind);
    return moment === undefined ? [] : [`${label} ${clock(moment.p50Ms)} (${clock(moment.p90Ms)})`];
  };
  // Where even the earliest start is too late, "by" would read as advice.
  const isTooLate = storm.latestStartMs !== null && storm.latestStartMs < timeline.earliestStartMs;
  const start =
    isTooLate && timeline.startMs === timeline.earliestStartMs
      ? `start ${clock(timeline.startMs)}, the earliest`
      : `start by ${clock(timeline.startMs)}`;
  const parts = [
    `${start}${departMs === null ? '' : `, leaving by ${clock(departMs)}`}`,
    ...middle('high', 'top'),
    ...(storm.endsAbove ? [] : middle('treelineDown', 'below treeline')),
    ...middle('end', 'back'),
  ];
  if (storm.probability !== null) {
    const what = storm.endsAbove ? 'back' : 'below treeline';
    parts.push(`${what} by ${clock(storm.deadline.atMs)}: ${chanceText(storm.probability)}`);
  }
  return parts.join(' · ');
}

/** What holds a score down, most first: `score 0.91, held down by aim × 0.93, climb × 0.98; a little by road`. */
export function scoreText(fit: Fit, weights: Design['weights']): string {
  const taking = scoreParts(fit.judgements, weights)
    .filter(({ factor }) => factor < 0.995)
    .sort((a, b) => a.factor - b.factor);
  // Factors of 0.99 need more digits to multiply out, and nobody asks that of them.
  const much = taking
    .filter(({ factor }) => factor < 0.985)
    .map(({ name, factor }) => `${questionText(name)} × ${factor.toFixed(2)}`);
  const little = taking.filter(({ factor }) => factor >= 0.985).map(({ name }) => questionText(name));
  const held = [
    ...(much.length > 0 ? [`held down by ${much.join(', ')}`] : []),
    ...(little.length > 0 ? [`${much.length > 0 ? '' : 'held down '}a little by ${little.join(', ')}`] : []),
  ];
  const score = `score ${fit.score.toFixed(2)}`;
  return held.length === 0 ? `${score}: nothing holds it down` : `${score}, ${held.join('; ')}`;
}

/** The places that a route takes nine times in ten: `1–3`. */
export function placesText(fit: Pick<Fit, 'certainty' | 'verdict'>): string {
  const { certainty } = fit;
  if (certainty === null || certainty.rankLow === null || certainty.rankHigh === null) return '–';
  if (!canBeChosen(fit)) return '–';
  const { rankLow, rankHigh } = certainty;
  return rankLow === rankHigh ? String(rankLow) : `${rankLow}–${rankHigh}`;
}

/** The deadline by the clock; it differs by a minute or so from one trailhead to the next. */
export function deadlineText({ storm: { deadline }, zone, date }: Timeline): string {
  const why =
    deadline.setBy === 'program'
      ? `set in place of the usual ${clockOn(deadline.usualMs, zone, date)}`
      : deadline.usualText;
  return `Deadline to be below treeline: about ${clockOn(deadline.atMs, zone, date)}, ${why}.`;
}

/** What a deadline later than the usual one does not change; `null`: it is not later. */
export function laterDeadlineText({ storm: { deadline }, zone, date }: Timeline): string | null {
  const laterMin = (deadline.atMs - deadline.usualMs) / MS_PER_MIN;
  if (deadline.setBy !== 'program' || laterMin < 1) return null;
  return `The deadline of ${clockOn(deadline.atMs, zone, date)} is ${durationText(laterMin)} later than the usual one. Storms keep their own time: what is in time by it may be out in one.`;
}

/** How many have each verdict: `6 fits, 1 stretch`. */
export function countsText(verdicts: readonly Verdict[]): string {
  return VERDICTS.map(
    (verdict) => [verdicts.filter((one) => one === verdict).length, VERDICT_TEXT[verdict]] as const,
  )
    .filter(([count]) => count > 0)
    .map(([count, text]) => `${count} ${text}`)
    .join(', ');
}
