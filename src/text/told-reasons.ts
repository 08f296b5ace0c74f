import type { Judgement } from '../rank/criterion.ts';
import type { Fit } from '../rank/fit.ts';
import { isTrained } from '../rank/least-outing.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';

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

/** A reason, and the criteria that share it. */
export interface ToldReason {
  readonly names: readonly string[];
  readonly verdict: Verdict;
  readonly reason: string;
}

/**
 * The reasons that carry a route's verdict; those that ask for an outing because none counts differ in the demand alone
 * and are told as one.
 */
export function toldReasons(fit: Fit): ToldReason[] {
  const judgements = tellingJudgements(fit);
  const isUnshown = ({ verdict, capacity, name }: Judgement) =>
    verdict === 'incomplete' && capacity === null && isTrained(name) && name !== 'rockClass';
  const unshown = judgements.filter(isUnshown);
  const needs = unshown.map(({ reason }) => reason.slice(0, reason.indexOf('; ')).replace(/^needs /, ''));
  const why = unshown[0]?.reason.split('; ').at(-1) ?? '';
  return judgements.flatMap((judgement): ToldReason[] => {
    const { name, verdict, reason } = judgement;
    if (unshown.length < 2 || !isUnshown(judgement)) return [{ names: [name], verdict, reason }];
    if (judgement !== unshown[0]) return [];
    return [
      { names: unshown.map((each) => each.name), verdict, reason: `needs ${needs.join(', ')}; ${why}` },
    ];
  });
}
