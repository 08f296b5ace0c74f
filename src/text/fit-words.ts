import type { Fit } from '../rank/fit.ts';
import type { Gap, Judgement } from '../rank/judgement.ts';
import { type DayWalk, isTrained, type LeastOuting } from '../rank/least-outing.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';
import type { UnitSystem } from '../units.ts';
import { judgementWords, questionText, reasonText } from './criteria/index.ts';
import { unshownText } from './criteria/trained.ts';
import { toCheckText } from './to-check.ts';
import { VERDICT_TEXT } from './verdict-words.ts';
import { atLeastClimbText, atLeastLengthText, climbText, lengthText, plural } from './words.ts';

/** What to ask before the trip: what judgements leave open, then what else there is. */
export const questionsOf = ({ judgements, questions }: Fit, units: UnitSystem): readonly string[] => [
  ...judgements.flatMap((judgement) => judgementWords(judgement, units).toCheck ?? []),
  ...questions.map((question) => toCheckText(question, units)),
];

/** What is asked of every route of a list is a question about the cohort: to be asked once. */
export function askedOfAll(ranked: readonly Fit[], units: UnitSystem): readonly string[] {
  if (ranked.length < 2) return [];
  const [first = [], ...others] = ranked.map((fit) => questionsOf(fit, units));
  return first.filter((text) => others.every((questions) => questions.includes(text)));
}

/** What would turn each judgement into `fits`, where something would. */
export function gapsInWords({ judgements }: Fit, units: UnitSystem): (Gap & { readonly text: string })[] {
  return judgements.flatMap((judgement) => {
    const { need } = judgement.reason as { readonly need?: Gap['need'] };
    const text = judgementWords(judgement, units).gap;
    return need === undefined || text === undefined ? [] : [{ criterion: judgement.name, need, text }];
  });
}

/** More steps than these are told by the first and the last (design). */
const MOST_STEPS_TOLD = 3;

/** A nearer aim, never more than what was reckoned. */
const nearerText = ({ distanceM, gainM }: DayWalk, units: UnitSystem): string =>
  `${lengthText(distanceM, units)} with ${climbText(gainM, units)} of climb`;

export function leastOutingText(
  { distanceM, gainM, rockClass, count, steps, nearer, leaves }: LeastOuting,
  units: UnitSystem,
): string {
  const walkText = (walk: DayWalk) =>
    `${atLeastLengthText(walk.distanceM, units)} with ${atLeastClimbText(walk.gainM, units)} of climb`;
  const ground = rockClass === null ? '' : `, on class ${rockClass} ground`;
  const day = `${walkText({ distanceM, gainM })}${ground}`;
  if (nearer !== null) {
    return `not this season: it would take ${count} or more training days. A nearer aim: ${nearerText(nearer, units)}, with everyone who goes`;
  }
  if (steps.length === 0) {
    return `${count} or more training days, each a step beyond the one before, up to ${day}; the training plan has their dates`;
  }
  const before = steps.slice(0, -1).map(walkText);
  const steadily = `${plural(steps.length, 'outing')}, each a step beyond the one before, with everyone who goes`;
  const led =
    steps.length === 1
      ? `one day of ${day}, close to the trip, with everyone who goes`
      : steps.length <= MOST_STEPS_TOLD
        ? `${steadily}: ${before.join('; ')}; then ${day}, the last close to the trip`
        : `${steadily}: from ${before[0] ?? ''} up to ${day}, the last close to the trip`;
  if (leaves.length === 0) return led;
  const left = leaves.map(({ name, verdict }) => `${questionText(name)} (${VERDICT_TEXT[verdict]})`);
  return `${led}; that leaves ${left.join(', ')}`;
}

/** What would make a stretch or a not-yet fit, the least outing first; empty for other verdicts. */
export function helpsOf(fit: Fit, units: UnitSystem): readonly string[] {
  const { verdict, leastOuting } = fit;
  if (verdict !== 'notYet' && verdict !== 'stretch') return [];
  const others = gapsInWords(fit, units)
    .filter(({ criterion }) => leastOuting === null || !isTrained(criterion))
    .map(({ text }) => text);
  return leastOuting === null ? others : [leastOutingText(leastOuting, units), ...others];
}

/** Which verdicts are worth telling below each: what decides, and what training could still change. */
const TELLING: Record<Exclude<Verdict, 'fits'>, readonly Verdict[]> = {
  stretch: ['stretch'],
  notYet: ['notYet', 'stretch'],
  incomplete: ['incomplete', 'notYet'],
  ruledOut: ['ruledOut'],
};

/** What was trained and has least to spare; `undefined` where nothing of it is known. */
export const tightestTrained = ({
  judgements,
}: Fit):
  | (Pick<Judgement, 'name'> & { readonly judgement: Judgement; readonly headroom: number })
  | undefined =>
  judgements
    .flatMap((judgement) => {
      const { name, headroom } = judgement;
      const isCounted = headroom !== null && (name === 'distance' || name === 'gain' || name === 'effort');
      return isCounted ? [{ judgement, name, headroom }] : [];
    })
    .sort((a, b) => a.headroom - b.headroom)[0];

const isRise = ({ name, reason }: Judgement): boolean =>
  name === 'altitude' && reason.code !== 'unknown' && reason.riseM !== null;

/** The judgements that carry a route's verdict; where all fit, the tightest of what was trained, storms, and the aim. */
function tellingJudgements(fit: Fit): readonly Judgement[] {
  const { verdict, judgements } = fit;
  if (verdict !== 'fits') {
    const telling = TELLING[verdict];
    return judgements
      .filter((judgement) => telling.includes(judgement.verdict))
      .sort((a, b) => verdictRank(b.verdict) - verdictRank(a.verdict));
  }
  const byName = (name: string) => judgements.filter((judgement) => judgement.name === name);
  const tightest = tightestTrained(fit)?.judgement ?? [];
  const rise = judgements.filter(isRise);
  return [tightest, byName('stormWindow'), rise, byName('drive'), byName('aim')].flat();
}

/** A reason in words, and the criteria that share it. */
export interface SharedReason {
  readonly names: readonly Judgement['name'][];
  readonly verdict: Verdict;
  readonly reason: string;
}

/**
 * The reasons that carry a route's verdict; those that ask for an outing because none counts differ in the demand alone
 * and are told as one.
 */
export function reasonsOf(fit: Fit, units: UnitSystem): SharedReason[] {
  const judgements = tellingJudgements(fit);
  const unshown = judgements.filter(({ reason }) => reason.code === 'unshown');
  return judgements.flatMap((judgement): SharedReason[] => {
    const { name, verdict, reason } = judgement;
    if (unshown.length < 2 || reason.code !== 'unshown') {
      return [{ names: [name], verdict, reason: reasonText(judgement, units) }];
    }
    if (judgement !== unshown[0]) return [];
    const needs = unshown.flatMap((one) => judgementWords(one, units).demand ?? []);
    const names = unshown.map((one) => one.name);
    return [{ names, verdict, reason: `needs ${needs.join(', ')}; ${unshownText(reason)}` }];
  });
}
