import type { Design } from '../design.ts';
import type { CriterionName } from './criteria/index.ts';
import { LEAST_VALUE } from './value.ts';

type Weights = Design['weights'];

/** What one criterion does to a score. */
export interface ScorePart {
  readonly name: CriterionName;
  readonly weight: number;
  /** What the score is multiplied by: 1 takes nothing. */
  readonly factor: number;
}

/** The logarithm of a value as it counts in a score. */
export const logOf = (value: number): number => (value >= 1 ? 0 : Math.log(Math.max(LEAST_VALUE, value)));

/**
 * The arithmetic of a score: each value to the power of its share of the weights. Their product, the weighted geometric
 * mean, is the score. A value that is not known (`incomplete`) counts as the least.
 */
export function scoreParts(
  judgements: readonly { readonly name: CriterionName; readonly value: number | null }[],
  weights: Weights,
): ScorePart[] {
  const total = judgements.reduce((sum, { name }) => sum + weights[name], 0);
  return judgements.map(({ name, value }) => {
    const weight = weights[name];
    const counted = Math.max(LEAST_VALUE, value ?? LEAST_VALUE);
    return { name, weight, factor: total > 0 ? counted ** (weight / total) : 0 };
  });
}
