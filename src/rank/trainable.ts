import type { Shown } from '../capability/demonstrated.ts';
import { beyondText, percentText, plural } from '../text/words.ts';
import { type CriterionName, type FitInput, type Gap, headroomOf, type Judgement } from './criterion.ts';
import { FITS, NOT_YET, newOutcome, type Outcome, STRETCH, settle } from './outcome.ts';
import { ratioCurve } from './value.ts';
import { VERDICTS } from './verdict.ts';

type Limited = Pick<FitInput, 'ageBand' | 'design'>;

const isMinor = (input: Limited): boolean => input.ageBand !== 'adult';

/** How far beyond what was shown a step may go and still be a stretch. */
export const stretchLimit = (input: Limited): number =>
  isMinor(input) ? input.design.limits.stretchMinor : input.design.limits.stretchAdult;

/** The rank of what is demanded over what was shown. */
export const trainedRank = (ratio: number, limit: number): number =>
  ratio <= 1 ? FITS : ratio <= limit ? STRETCH : NOT_YET;

/** Demand over what was shown, judged; `curve` is `ratioCurve(limit)`. */
export function trainedOutcome(
  ratio: number,
  limit: number,
  curve: (ratio: number) => number,
  out: Outcome,
): void {
  settle(out, trainedRank(ratio, limit), curve(ratio));
}

/** After so many days an outing no longer counts. */
const recentDays = (input: Limited): number =>
  2 * (isMinor(input) ? input.design.detraining.windowDaysMinor : input.design.detraining.windowDaysAdult);

interface Trainable {
  readonly name: CriterionName;
  readonly unit: string;
  /** `null`: not known, with the reason. */
  readonly demand: number | null;
  readonly whyUnknown: () => string;
  readonly demandText: string;
  readonly shown: Shown | null;
  /** What the figures shown are divided by before they are told: what was credited for a doubt that both share. */
  readonly credited?: number;
  /** How the outing's figure was come by, told beside it. */
  readonly asideShown?: string;
  readonly text: (value: number) => string;
  readonly gap: () => Gap;
}

function shownText(shown: Shown, text: (value: number) => string, aside: string): string {
  if (shown.daysBefore === 0) return `${text(shown.value)} on the day itself`;
  const lost = 1 - shown.value / shown.asWalked;
  const since = shown.daysBefore === 1 ? 'the day since' : `the ${shown.daysBefore} days since`;
  return `${text(shown.value)} (${text(shown.asWalked)} on ${shown.date}${aside}, less ${percentText(lost)} for ${since})`;
}

/** What distance, gain and effort share: a demand against the most that everyone who goes has shown. */
export function judgeTrainable(input: FitInput, question: Trainable): Judgement {
  const { name, unit, demand, shown, demandText, text } = question;
  const base = { name, unit, demand, capacity: shown?.value ?? null };
  if (demand === null) {
    return { ...base, headroom: null, value: null, verdict: 'incomplete', reason: question.whyUnknown() };
  }
  if (shown === null) {
    const without = input.shown.membersWithout.length;
    const someHave = without > 0 && input.shown.climbs.some((own) => own.length > 0);
    const recent = `outing of the ${plural(recentDays(input), 'day')} before the trip`;
    const who = someHave ? `someone who goes has no ${recent} on record` : `no ${recent} is on record`;
    return {
      ...base,
      headroom: null,
      value: null,
      verdict: 'incomplete',
      reason: `needs ${demandText}; ${who}: record one`,
    };
  }
  const told = (value: number) => text(value / (question.credited ?? 1));
  const ratio = demand / shown.value;
  const limit = stretchLimit(input);
  const out = newOutcome();
  trainedOutcome(ratio, limit, ratioCurve(limit), out);
  const verdict = VERDICTS[out.rank] ?? 'notYet';
  const reach = percentText(limit - 1);
  const beyond =
    ratio <= 1
      ? ''
      : verdict !== 'notYet'
        ? `, ${beyondText(ratio - 1)}`
        : percentText(ratio - 1) === reach
          ? `, just over the ${reach} beyond it that a stretch reaches`
          : `, ${beyondText(ratio - 1)} (a stretch reaches ${reach})`;
  const judgement = {
    ...base,
    headroom: headroomOf(demand, shown.value),
    value: out.value,
    verdict,
    reason: `needs ${demandText}; everyone who goes has shown ${shownText(shown, told, question.asideShown ?? '')}${beyond}`,
  };
  if (verdict === 'fits') return judgement;
  const gap = question.gap();
  // Beyond a stretch it is never one leap.
  const steps = verdict === 'notYet' ? ', worked up to in steps of 10 to 15 % a day out' : '';
  return { ...judgement, gap: { ...gap, text: `${gap.text}${steps}` } };
}
