/**
 * TOPSIS after Hwang and Yoon 1981 (from memory), for comparison only: closeness to the best of all criteria, all of
 * them to be maximised.
 *
 * @param scaled `false` leaves out the vector scaling of the columns
 */
export function topsis(
  matrix: readonly (readonly number[])[],
  weights: readonly number[],
  scaled = true,
): number[] {
  const columns = weights.map((weight, j) => {
    const column = matrix.map((row) => row[j] ?? 0);
    const norm = scaled ? Math.hypot(...column) : 1;
    return column.map((value) => (norm === 0 ? 0 : (value * weight) / norm));
  });
  return matrix.map((_, i) => {
    const to = (best: (...values: number[]) => number) =>
      Math.hypot(...columns.map((column) => (column[i] ?? 0) - best(...column)));
    const [fromBest, fromWorst] = [to(Math.max), to(Math.min)];
    return fromBest + fromWorst === 0 ? 1 : fromWorst / (fromBest + fromWorst);
  });
}
