import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../fit/cautions.ts';
import type { Judgement } from '../fit/criterion.ts';
import { isTrained } from '../fit/least-outing.ts';
import { peopleText } from '../fit/people-words.ts';
import type { Fit } from '../fit/rank-routes.ts';
import { scoreParts } from '../fit/score.ts';
import { type Verdict, verdictRank } from '../fit/verdict.ts';
import { questionText, VERDICT_TEXT } from '../fit/verdict-words.ts';
import { chanceText, climbText, clockOn, heightText, lengthText, percentText, plural } from '../fit/words.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { UnitSystem } from '../units.ts';
import { table, wrapped } from './table.ts';

/** Which verdicts are worth telling below each: what decides, and what training could still change. */
const TELLING: Record<Exclude<Verdict, 'fits'>, readonly Verdict[]> = {
  stretch: ['stretch'],
  notYet: ['notYet', 'stretch'],
  incomplete: ['incomplete', 'notYet'],
  ruledOut: ['ruledOut'],
};

/** The judgements that carry a route's verdict; where all fit, the tightest of what was trained, storms, and the aim. */
function tellingJudgements(fit: Fit): readonly Judgement[] {
  if (fit.verdict !== 'fits') {
    const telling = TELLING[fit.verdict];
    return fit.judgements
      .filter((judgement) => telling.includes(judgement.verdict))
      .sort((a, b) => verdictRank(b.verdict) - verdictRank(a.verdict));
  }
  const byName = (name: string) => fit.judgements.filter((judgement) => judgement.name === name);
  const tightest = fit.judgements
    .filter(({ name, headroom }) => headroom !== null && ['distance', 'gain', 'effort'].includes(name))
    .sort((a, b) => (a.headroom ?? 0) - (b.headroom ?? 0))
    .slice(0, 1);
  const rise = byName('altitude').filter(({ reason }) => reason.includes('above the highest point'));
  return [...tightest, ...byName('stormWindow'), ...rise, ...byName('drive'), ...byName('aim')];
}

function dayLine(fit: Fit): string | null {
  const { timeline } = fit;
  if (timeline === null) return null;
  const { zone, storm, date } = timeline;
  const clock = (ms: number) => clockOn(ms, zone, date);
  const at = (kind: string) => timeline.checkpoints.find((checkpoint) => checkpoint.kind === kind)?.at;
  const middle = (kind: string, label: string) => {
    const moment = at(kind);
    return moment === undefined
      ? []
      : [`${label} ${clock(moment.p50Ms)} (by ${clock(moment.p90Ms)} nine times in ten)`];
  };
  const parts = [
    `start by ${clock(timeline.startMs)}`,
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

/** The arithmetic of a score, the criteria that take most first: `score 0.91: full but for aim × 0.93, climb × 0.98`. */
function scoreText(fit: Fit, weights: Design['weights']): string {
  const taking = scoreParts(fit.judgements, weights)
    .filter(({ factor }) => factor < 0.995)
    .sort((a, b) => a.factor - b.factor)
    .map(({ name, factor }) => `${questionText(name)} × ${factor.toFixed(2)}`);
  return `score ${fit.score.toFixed(2)}: full${taking.length === 0 ? '' : ` but for ${taking.join(', ')}`}`;
}

/** The places that a route takes nine times in ten: `1–3`. */
function placesText({ standing, verdict }: Fit): string {
  if (standing === null || standing.rankLow === null || standing.rankHigh === null) return '–';
  // Nobody chooses among these.
  if (verdict === 'incomplete' || verdict === 'ruledOut') return '–';
  const { rankLow, rankHigh } = standing;
  return rankLow === rankHigh ? String(rankLow) : `${rankLow}–${rankHigh}`;
}

const DOUBTS = 'trials that vary the weights, the climb, the pace and what was shown within their doubt';

/** How sure the order is, once for the whole list; empty where there is no order to be sure of. */
function orderLines(ranked: readonly Fit[]): string[] {
  const [first, ...others] = ranked;
  const order = first?.standing?.order ?? null;
  if (first === undefined || others.length === 0 || order === null || order.clearWinner === null) return [];
  const shareOf = (fit: Fit) => fit.standing?.firstShare ?? 0;
  const part = (fit: Fit) => percentText(shareOf(fit));
  const [next] = [...others].sort((a, b) => shareOf(b) - shareOf(a));
  const winner = order.clearWinner ? '' : ' no clear winner.';
  const beside =
    next === undefined || shareOf(next) === 0
      ? ''
      : `, ${next.route.name} (place ${next.rank}) in ${part(next)}`;
  const groups = order.level.map(({ from, to }) => `${from} ${to === from + 1 ? 'and' : 'to'} ${to}`);
  return [
    `How sure the order is:${winner} In ${order.draws.toLocaleString('en')} ${DOUBTS}, ${first.route.name} comes first in ${part(first)}${beside}.`,
    ...(groups.length > 0 ? [`Level, as the trials do not tell them apart: ${groups.join('; ')}.`] : []),
    'Places: where a route stands in nine trials of ten.',
  ].map((line) => wrapped(line, '', 100, '  '));
}

function entry(fit: Fit, asked: ReadonlySet<string>, weights: Design['weights'], units: UnitSystem): string {
  const { measures } = fit.route;
  const head = table([
    [
      String(fit.rank ?? '').padStart(2),
      fit.route.name.padEnd(34),
      VERDICT_TEXT[fit.verdict].padEnd(10),
      fit.score.toFixed(2).padStart(5),
      placesText(fit).padStart(6),
      lengthText(measures.distanceM, units).padStart(8),
      (measures.gainM === null ? 'climb ?' : `+${climbText(measures.gainM.value, units)}`).padStart(9),
      measures.highM === null ? '' : `top ${heightText(measures.highM, units)}`,
      `class ${fit.route.attributes.rockClass ?? '?'}`,
    ],
  ]);
  const lines = [head];
  const day = fit.verdict === 'ruledOut' || fit.verdict === 'incomplete' ? null : dayLine(fit);
  if (day !== null) lines.push(wrapped(day, '      '));
  for (const judgement of tellingJudgements(fit)) {
    const sign = judgement.verdict === 'fits' ? '' : ` [${VERDICT_TEXT[judgement.verdict]}]`;
    lines.push(
      wrapped(`${questionText(judgement.name)}${sign}: ${judgement.reason}`, '      ', 100, '        '),
    );
  }
  if (fit.verdict === 'notYet' || fit.verdict === 'stretch') {
    const { leastOuting } = fit;
    const others = fit.gap.filter(({ criterion }) => leastOuting === null || !isTrained(criterion));
    const helps = [...(leastOuting === null ? [] : [leastOuting]), ...others];
    for (const { text } of helps) lines.push(wrapped(`would help: ${text}`, '      ', 100, '        '));
  }
  if (verdictRank(fit.verdict) <= verdictRank('notYet')) {
    lines.push(wrapped(scoreText(fit, weights), '      ', 100, '        '));
  }
  const own = fit.toCheck.filter((text) => !asked.has(text));
  if (own.length > 0 && fit.verdict !== 'ruledOut') {
    lines.push(wrapped(`to check: ${own.join('; ')}`, '      ', 100, '        '));
  }
  const notes = fit.route.notes.filter((note) => note.code !== 'treeline-unknown');
  for (const note of notes) lines.push(wrapped(`note: ${note.text}`, '      ', 100, '        '));
  return lines.join('\n');
}

/** The foot of every shortlist and plan. */
export function footText(): string {
  return [MEANING_OF_FITS, ...CAUTIONS].map((text) => wrapped(text, '  ', 100, '  ')).join('\n');
}

/** The deadline by the clock; it differs by a minute or so from one trailhead to the next. */
function deadlineText({ storm: { deadline }, zone, date }: Timeline): string {
  const why = deadline.setBy === 'program' ? 'set by the program' : deadline.usualText;
  return `Deadline to be below treeline: about ${clockOn(deadline.atMs, zone, date)}, ${why}.`;
}

/** A shortlist for people. */
export function shortlistText(
  ranked: readonly Fit[],
  cohort: Omit<CohortInput, 'outings'>,
  date: string,
  design: Design,
  units: UnitSystem,
): string {
  // What is asked of every route is a question about the cohort: asked once, at the head.
  const asked = new Set(
    ranked.length < 2
      ? []
      : (ranked[0]?.toCheck ?? []).filter((text) => ranked.every((fit) => fit.toCheck.includes(text))),
  );
  const day = ranked.find((fit) => fit.timeline !== null)?.timeline ?? null;
  const counts = (['fits', 'stretch', 'notYet', 'incomplete', 'ruledOut'] as const)
    .map(
      (verdict) => [ranked.filter((fit) => fit.verdict === verdict).length, VERDICT_TEXT[verdict]] as const,
    )
    .filter(([count]) => count > 0)
    .map(([count, text]) => `${count} ${text}`);
  return [
    `${cohort.name} · ${date}`,
    peopleText(cohort),
    `${plural(ranked.length, 'route')}: ${counts.join(', ')}.`,
    ...orderLines(ranked),
    ...(day === null ? [] : [deadlineText(day)]),
    ...(asked.size > 0 ? [wrapped(`to check for every route: ${[...asked].join('; ')}`, '', 100, '  ')] : []),
    '',
    table([['  ', 'route'.padEnd(34), 'verdict'.padEnd(10), 'score', 'places', 'length'.padStart(8)]]),
    ...ranked.map((fit) => entry(fit, asked, design.weights, units)),
    '',
    footText(),
  ].join('\n');
}
