import type { RandomStream } from '../../../src/sampling/random.ts';

/** Weights drawn evenly over all that sum to 1: exponentials over their sum. */
export function evenWeights({ uniform }: RandomStream, count: number): number[] {
  const parts = Array.from({ length: count }, () => -Math.log(1 - uniform()));
  const sum = parts.reduce((all, part) => all + part, 0);
  return parts.map((part) => part / sum);
}

/** Central weights: the mean of the weights under which `which` has the highest weighted sum; empty where it never has. */
export function centralWeights(
  values: readonly (readonly number[])[],
  weights: readonly (readonly number[])[],
  which: number,
): number[] {
  const total = (row: readonly number[], weight: readonly number[]) =>
    row.reduce((sum, value, j) => sum + value * (weight[j] ?? 0), 0);
  const won = weights.filter((weight) => {
    const totals = values.map((row) => total(row, weight));
    return (totals[which] ?? 0) >= Math.max(...totals);
  });
  const [first = []] = won;
  return first.map((_, j) => won.reduce((sum, weight) => sum + (weight[j] ?? 0), 0) / won.length);
}

/** Entropy of shares in bits; a share of 0 adds nothing. */
export const entropyBits = (shares: readonly number[]): number =>
  shares.reduce((sum, share) => sum - (share > 0 ? share * Math.log2(share) : 0), 0);
