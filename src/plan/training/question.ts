import type { Outing } from '../../capability/outing.ts';
import type { Design } from '../../design.ts';
import { daysBetween } from '../../earth/local-time.ts';
import type { CriterionName } from '../../rank/criteria/index.ts';
import type { Fit } from '../../rank/fit.ts';
import type { Judgement } from '../../rank/judgement.ts';
import type { CohortRecord } from '../../rank/readiness.ts';
import { verdictRank } from '../../rank/verdict.ts';
import type { Route } from '../../route/describe-route.ts';

/** What a training plan and a ladder of known routes are made from. Dates are `YYYY-MM-DD`, never read from a clock. */
export interface TrainingInput {
  readonly route: Route;
  readonly record: CohortRecord;
  readonly today: string;
  readonly tripDate: string;
  readonly routes: readonly Route[];
  readonly design: Design;
}

export const recordUntil = (record: CohortRecord, today: string): CohortRecord => ({
  ...record,
  outings: record.outings.filter(({ date }) => daysBetween(date, today) >= 0),
});

export const withOutings = (record: CohortRecord, more: readonly Outing[]): CohortRecord => ({
  ...record,
  outings: [...record.outings, ...more],
});

/** What is worse than a stretch and not among what steps bring. */
export const inTheWayOf = ({ judgements }: Fit, bySteps: ReadonlySet<CriterionName>): Judgement[] =>
  judgements.filter(
    ({ name, verdict }) => !bySteps.has(name) && verdictRank(verdict) > verdictRank('stretch'),
  );
