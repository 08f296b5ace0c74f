import { verdictRank } from './verdict.ts';

export const FITS = verdictRank('fits');
export const STRETCH = verdictRank('stretch');
export const NOT_YET = verdictRank('notYet');
export const INCOMPLETE = verdictRank('incomplete');
export const RULED_OUT = verdictRank('ruledOut');

/**
 * A criterion answered in numbers alone: its value, 0 to 1, and the rank of its verdict. Written in place, so that
 * ranking ten thousand routes makes no objects; a judgement is the same answer in words.
 */
export interface Outcome {
  /** Of no meaning where the verdict is `incomplete`: it counts as the least there. */
  value: number;
  rank: number;
}

export const newOutcome = (): Outcome => ({ value: 0, rank: FITS });

export function settle(out: Outcome, rank: number, value: number): void {
  out.rank = rank;
  out.value = value;
}
