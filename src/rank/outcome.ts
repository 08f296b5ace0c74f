import { FITS } from './verdict.ts';

/**
 * A criterion's answer for one route. Written in place, so that ranking ten thousand routes makes no objects; `NaN` is
 * "not known" or "does not apply".
 */
export interface Outcome {
  /** Which of the criterion's answers it is: what its reason is told from. */
  code: string;
  /** Rank of the verdict. */
  rank: number;
  /** 0 to 1; that of an incomplete one counts in the score, but is not told. */
  value: number;
  /** The two sides, in the criterion's unit, and the headroom between where they are compared. */
  demand: number;
  capacity: number;
  headroom: number;
}

export const newOutcome = (): Outcome => ({
  code: '',
  rank: FITS,
  value: 0,
  demand: Number.NaN,
  capacity: Number.NaN,
  headroom: Number.NaN,
});

/** Answers; the two sides are not known unless they are given after it. */
export function answer(out: Outcome, code: string, rank: number, value: number): void {
  out.code = code;
  out.rank = rank;
  out.value = value;
  out.demand = Number.NaN;
  out.capacity = Number.NaN;
  out.headroom = Number.NaN;
}

/** Gives both sides: the headroom is `capacity / demand − 1`, not known where there is no demand to divide by. */
export function compare(out: Outcome, demand: number, capacity: number): void {
  out.demand = demand;
  out.capacity = capacity;
  out.headroom = demand > 0 ? capacity / demand - 1 : Number.NaN;
}
