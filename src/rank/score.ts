import type { Design } from '../design.ts';
import type { Judgement } from './criterion.ts';
import { LEAST_VALUE } from './value.ts';

type Weights = Design['weights'];
type Valued = Pick<Judgement, 'name' | 'value'>;

/** What one criterion does to a score. */
export interface ScorePart {
  readonly name: Judgement['name'];
  readonly weight: number;
  /** What the score is multiplied by: 1 takes nothing. */
  readonly factor: number;
}

/** A criterion without a value (`incomplete`) counts as the least. */
const countedOf = ({ value }: Valued): number => Math.max(LEAST_VALUE, value ?? LEAST_VALUE);

/** The arithmetic of a score: each value to the power of its share of the weights. Their product is the score. */
export function scoreParts(judgements: readonly Valued[], weights: Weights): ScorePart[] {
  const total = judgements.reduce((sum, { name }) => sum + weights[name], 0);
  return judgements.map((judgement) => {
    const weight = weights[judgement.name];
    return { name: judgement.name, weight, factor: total > 0 ? countedOf(judgement) ** (weight / total) : 0 };
  });
}

/** Weighted geometric mean of the values. */
export function scoreOf(judgements: readonly Valued[], weights: Weights): number {
  let sum = 0;
  let total = 0;
  for (const judgement of judgements) {
    const weight = weights[judgement.name];
    sum += weight * Math.log(countedOf(judgement));
    total += weight;
  }
  return total > 0 ? Math.exp(sum / total) : 0;
}
