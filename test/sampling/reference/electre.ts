type Sense = 'max' | 'min';

/** Concordance of ELECTRE I (Roy 1968, from memory): the weight of the criteria on which `i` is at least as good as `j`. */
export function concordance(
  matrix: readonly (readonly number[])[],
  weights: readonly number[],
  senses: readonly Sense[],
): number[][] {
  return matrix.map((a) =>
    matrix.map((b) =>
      weights.reduce((sum, weight, j) => {
        const gain = (a[j] ?? 0) - (b[j] ?? 0);
        return sum + ((senses[j] === 'min' ? -gain : gain) >= 0 ? weight : 0);
      }, 0),
    ),
  );
}

/** Discordance: the largest lead of `j` over `i` on one criterion, over the widest span of any criterion (both scaled by their sums). */
export function discordance(matrix: readonly (readonly number[])[], senses: readonly Sense[]): number[][] {
  const scaled = matrix.map((row) =>
    row.map((value, j) => value / matrix.reduce((sum, other) => sum + (other[j] ?? 0), 0)),
  );
  const span = Math.max(
    ...senses.map((_, j) => {
      const column = scaled.map((row) => row[j] ?? 0);
      return Math.max(...column) - Math.min(...column);
    }),
  );
  return scaled.map((a) =>
    scaled.map((b) =>
      Math.max(
        0,
        ...senses
          .map((sense, j) => ((b[j] ?? 0) - (a[j] ?? 0)) * (sense === 'min' ? -1 : 1))
          .map((lead) => lead / span),
      ),
    ),
  );
}

/** Alternatives that no other one outranks, from 0. */
export function kernel(
  agrees: readonly (readonly number[])[],
  objects: readonly (readonly number[])[],
  least: number,
  most: number,
): number[] {
  const outranks = (i: number, j: number): boolean =>
    i !== j && (agrees[i]?.[j] ?? 0) >= least && (objects[i]?.[j] ?? 1) <= most;
  return agrees.map((_, j) => j).filter((j) => !agrees.some((_, i) => outranks(i, j)));
}

/** Credibility of ELECTRE III (Roy 1978; sources.md §13): concordance cut by every discordance above it. */
export const credibility = (agreement: number, objections: readonly number[]): number =>
  objections
    .filter((objection) => objection > agreement)
    .reduce((left, objection) => (left * (1 - objection)) / (1 - agreement), agreement);
