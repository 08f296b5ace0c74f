import { at } from '../array.ts';
import { CRITERIA, type CriterionName, type ReasonOf } from './criteria/index.ts';
import type { AnyReason, Need, Subject } from './criterion.ts';
import { newOutcome } from './outcome.ts';
import { AS_RANKED } from './shift.ts';
import { INCOMPLETE, VERDICTS, type Verdict } from './verdict.ts';

/** One question of fit, answered. Numbers are in `unit`; `null` is "not known" or "does not apply". */
interface JudgementOf<Name extends CriterionName> {
  readonly name: Name;
  readonly demand: number | null;
  readonly capacity: number | null;
  readonly unit: string;
  /** `capacity / demand − 1`; `null` where there is no demand to divide by. */
  readonly headroom: number | null;
  /** 0 to 1; `null` where the verdict is `incomplete`. */
  readonly value: number | null;
  readonly verdict: Verdict;
  /** Why, as values; `reasonText` puts it into words. */
  readonly reason: ReasonOf<Name>;
}

export type Judgement = { readonly [Name in CriterionName]: JudgementOf<Name> }[CriterionName];

/** What would turn a judgement into `fits`. */
export interface Gap {
  readonly criterion: CriterionName;
  readonly need: Need;
}

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);

function judgementOf(criterion: (typeof CRITERIA)[number], subject: Subject): Judgement {
  const out = newOutcome();
  criterion.over(subject.facts)(subject.i, AS_RANKED, out);
  const { name, unit } = criterion;
  const judgement = {
    name,
    demand: orNull(out.demand),
    capacity: orNull(out.capacity),
    unit: typeof unit === 'string' ? unit : unit(out),
    headroom: orNull(out.headroom),
    value: out.rank === INCOMPLETE ? null : out.value,
    verdict: at(VERDICTS, out.rank),
    reason: criterion.reason(subject, out),
  };
  // The reason is the criterion's own, which the compiler cannot follow through the list.
  return judgement as Judgement;
}

/** Answers every question for one route. */
export const judgementsOf = (subject: Subject): Judgement[] =>
  CRITERIA.map((criterion) => judgementOf(criterion, subject));

/** What would turn those into `fits` that training, or for storms a quicker group, can change. */
export const gapsOf = (judgements: readonly Judgement[]): Gap[] =>
  judgements.flatMap(({ name, reason }) => {
    const { need }: AnyReason = reason;
    return need === undefined ? [] : [{ criterion: name, need }];
  });
