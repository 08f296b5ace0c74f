/** A shortlist in words, for the terminal and for pages. */
import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import type { Standing } from './acceptability.ts';
import type { Judgement } from './criterion.ts';
import { isTrained } from './least-outing.ts';
import type { Fit } from './rank-routes.ts';
import { scoreParts } from './score.ts';
import { VERDICTS, type Verdict, verdictRank } from './verdict.ts';
import { questionText, VERDICT_TEXT } from './verdict-words.ts';
import { chanceText, clockOn, percentText } from './words.ts';

/** Which verdicts are worth telling below each: what decides, and what training could still change. */
const TELLING: Record<Exclude<Verdict, 'fits'>, readonly Verdict[]> = {
  stretch: ['stretch'],
  notYet: ['notYet', 'stretch'],
  incomplete: ['incomplete', 'notYet'],
  ruledOut: ['ruledOut'],
};

/** The judgements that carry a route's verdict; where all fit, the tightest of what was trained, storms, and the aim. */
export function tellingJudgements(fit: Fit): readonly Judgement[] {
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

/** The day's times in a line; `null` where none can be given. */
export function dayText(fit: Fit): string | null {
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
export function scoreText(fit: Fit, weights: Design['weights']): string {
  const taking = scoreParts(fit.judgements, weights)
    .filter(({ factor }) => factor < 0.995)
    .sort((a, b) => a.factor - b.factor)
    .map(({ name, factor }) => `${questionText(name)} × ${factor.toFixed(2)}`);
  return `score ${fit.score.toFixed(2)}: full${taking.length === 0 ? '' : ` but for ${taking.join(', ')}`}`;
}

/** What would make a stretch or a not-yet fit, the least outing first; empty for other verdicts. */
export function helpsOf({ verdict, gap, leastOuting }: Fit): readonly string[] {
  if (verdict !== 'notYet' && verdict !== 'stretch') return [];
  const others = gap.filter(({ criterion }) => leastOuting === null || !isTrained(criterion));
  return [...(leastOuting === null ? [] : [leastOuting]), ...others].map(({ text }) => text);
}

/** The places that a route takes nine times in ten: `1–3`. */
export function placesText({ standing, verdict }: Fit): string {
  if (standing === null || standing.rankLow === null || standing.rankHigh === null) return '–';
  // Nobody chooses among these.
  if (verdict === 'incomplete' || verdict === 'ruledOut') return '–';
  const { rankLow, rankHigh } = standing;
  return rankLow === rankHigh ? String(rankLow) : `${rankLow}–${rankHigh}`;
}

const DOUBTS = 'trials that vary the weights, the climb, the pace and what was shown within their doubt';

/** A route and its place among others. */
export interface Placed {
  readonly name: string;
  readonly rank: number | null;
  readonly standing: Standing | null;
}

export const placedOf = ({ route, rank, standing }: Fit): Placed => ({ name: route.name, rank, standing });

/** How sure the order is, once for the whole list; empty where there is no order to be sure of. */
export function orderSentences(ranked: readonly Placed[]): string[] {
  const [first, ...others] = ranked;
  const order = first?.standing?.order ?? null;
  if (first === undefined || others.length === 0 || order === null || order.clearWinner === null) return [];
  const shareOf = ({ standing }: Placed) => standing?.firstShare ?? 0;
  const part = (placed: Placed) => percentText(shareOf(placed));
  const [next] = [...others].sort((a, b) => shareOf(b) - shareOf(a));
  const winner = order.clearWinner ? '' : ' no clear winner.';
  const beside =
    next === undefined || shareOf(next) === 0 ? '' : `, ${next.name} (place ${next.rank}) in ${part(next)}`;
  const groups = order.level.map(({ from, to }) => `${from} ${to === from + 1 ? 'and' : 'to'} ${to}`);
  return [
    `How sure the order is:${winner} In ${order.draws.toLocaleString('en')} ${DOUBTS}, ${first.name} comes first in ${part(first)}${beside}.`,
    ...(groups.length > 0 ? [`Level, as the trials do not tell them apart: ${groups.join('; ')}.`] : []),
    'Places: where a route stands in nine trials of ten.',
  ];
}

/** The deadline by the clock; it differs by a minute or so from one trailhead to the next. */
export function deadlineText({ storm: { deadline }, zone, date }: Timeline): string {
  const why = deadline.setBy === 'program' ? 'set by the program' : deadline.usualText;
  return `Deadline to be below treeline: about ${clockOn(deadline.atMs, zone, date)}, ${why}.`;
}

/** What is asked of every route of a list is a question about the cohort: to be asked once. */
export function askedOfAll(ranked: readonly Fit[]): readonly string[] {
  if (ranked.length < 2) return [];
  return (ranked[0]?.toCheck ?? []).filter((text) => ranked.every((fit) => fit.toCheck.includes(text)));
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
