import type { Shown } from '../../capability/demonstrated.ts';
import type { Missing } from '../../rank/missing.ts';
import type { TrainedReason } from '../../rank/trained.ts';
import type { Verdict } from '../../rank/verdict.ts';
import { beyondText, percentText, plural } from '../words.ts';
import { type JudgementWords, missingText } from './words-of.ts';

/** How a quantity that training changes is told. */
interface Telling<Demand> {
  readonly unknown?: (missing: Missing, demand: Demand | null) => string;
  readonly demand: (demand: Demand) => string;
  /** An amount of what was shown, and what stands beside it. */
  readonly amount: (amount: number, demand: Demand) => string;
  readonly aside?: (demand: Demand) => string;
  readonly gap: (demand: Demand, reason: Extract<TrainedReason<Demand>, { code: 'shown' }>) => string;
}

function shownText(shown: Shown, text: (value: number) => string, aside: string): string {
  if (shown.daysBefore === 0) return `${text(shown.value)} on the day itself`;
  const lost = 1 - shown.value / shown.asWalked;
  const since = shown.daysBefore === 1 ? 'the day since' : `the ${shown.daysBefore} days since`;
  return `${text(shown.value)} (${text(shown.asWalked)} on ${shown.date}${aside}, less ${percentText(lost)} for ${since})`;
}

function beyondLimit(ratio: number, limit: number): string {
  const reach = percentText(limit - 1);
  if (ratio <= 1) return '';
  if (ratio <= limit) return `, ${beyondText(ratio - 1)}`;
  return percentText(ratio - 1) === reach
    ? `, just over the ${reach} beyond it that a stretch reaches`
    : `, ${beyondText(ratio - 1)} (a stretch reaches ${reach})`;
}

/** What distance, gain and effort share: a demand against the most that everyone who goes has shown. */
export function trainedWords<Demand>(
  reason: TrainedReason<Demand>,
  verdict: Verdict,
  telling: Telling<Demand>,
): JudgementWords {
  if (reason.code === 'unknown') {
    return { reason: (telling.unknown ?? missingText)(reason.missing, reason.demand) };
  }
  const { demand } = reason;
  const demandText = telling.demand(demand);
  const needs = `needs ${demandText}`;
  if (reason.code === 'unshown') return { reason: `${needs}; ${unshownText(reason)}`, demand: demandText };
  const { shown, ratio, limit, isOneOldDay } = reason;
  const amount = (value: number) => telling.amount(value, demand);
  const had = shownText(shown, amount, telling.aside?.(demand) ?? '');
  const old = isOneOldDay ? ', and no day since: walk again first' : '';
  const text = `${needs}; everyone who goes has shown ${had}${beyondLimit(ratio, limit)}${old}`;
  if (reason.need === undefined) return { reason: text };
  // Beyond a stretch it is never one leap.
  const steps = verdict === 'notYet' ? ', worked up to in small steps' : '';
  return { reason: text, gap: `${telling.gap(demand, reason)}${steps}` };
}

/** Why nothing counts as shown, and what to do. */
export function unshownText({
  someHave,
  recentDays,
}: {
  readonly someHave: boolean;
  readonly recentDays: number;
}): string {
  const recent = `outing of the ${plural(recentDays, 'day')} before the trip`;
  const who = someHave ? `someone who goes has no ${recent} on record` : `no ${recent} is on record`;
  return `${who}: record one`;
}
