// A posting of the file's own grid, reached through its header's rounded steps, misses a whole number by up
// to 4e-8 of a cell (10,812 columns of 1/3″ with 16 digits). Snapping costs at most 1e-7 of the step in height.
const SNAP_CELLS = 1e-7;

/** A position in cells, put on the posting where it is one but for rounding. */
export function snapped(cells: number): number {
  const nearest = Math.round(cells);
  return Math.abs(cells - nearest) <= SNAP_CELLS ? nearest : cells;
}

/**
 * Height between four postings by bilinear interpolation, metres, in the file's row order: `v01` is in the next column,
 * `v10` in the next row; void is NaN. A void posting that has weight makes it NaN; one without weight does not count, so
 * a place on a row, column or posting needs only what lies there.
 * @example bilinear(0, 10, 20, 30, 0.5, 0.5) // 15
 */
// biome-ignore lint/complexity/useMaxParams: the four postings and two weights of a place, for many places of a block
export function bilinear(
  v00: number,
  v01: number,
  v10: number,
  v11: number,
  columnWeight: number,
  rowWeight: number,
): number {
  return mix(mix(v00, v10, rowWeight), mix(v01, v11, rowWeight), columnWeight);
}

// NaN with weight 0 must not spread, hence no plain sum of products.
function mix(from: number, to: number, weight: number): number {
  if (weight === 0) return from;
  if (weight === 1) return to;
  return from + (to - from) * weight;
}
