import type { Timeline } from '../day/walk-day.ts';
import type { Route } from '../route/describe-route.ts';
import type { Facts } from './facts.ts';
import type { Outcome } from './outcome.ts';
import type { Shift } from './shift.ts';

/** Answers a question for the route at a place of the table, as a trial shifts the facts, into `out`. */
type Judge = (i: number, shift: Shift, out: Outcome) => void;

/** One route of a table that is told about. */
export interface Subject {
  readonly facts: Facts;
  /** Its place in the table. */
  readonly i: number;
  readonly route: Route;
  /** `null` where no height under the line is known. */
  readonly timeline: Timeline | null;
}

/** The least that would turn a `notYet` or `stretch` into `fits`. */
export type Need = Readonly<Record<string, number | string>>;

/** Why a criterion answers as it does: a code and values in SI, for `text/criteria/` to put into words. */
export interface AnyReason {
  readonly code: string;
  /** An outing on the trip's date (`distanceM`, `gainM`, `rockClass`), or the share of its time the group may take (`timeFactor`). */
  readonly need?: Need;
}

/**
 * One question of fit. The rule is `over`, for one route, for all of a library and for every trial alike; `reason` adds
 * what its answer is told from, for routes that are shown.
 */
export interface Criterion<Name extends string, Reason extends AnyReason> {
  readonly name: Name;
  /** Of demand and capacity. */
  readonly unit: string | ((outcome: Outcome) => string);
  /** Whether trials change its answer: it reads their shift. A test holds it to that. */
  readonly isShifted: boolean;
  /** What is the same for all routes is worked out once. */
  readonly over: (facts: Facts) => Judge;
  readonly reason: (subject: Subject, outcome: Outcome) => Reason;
}
