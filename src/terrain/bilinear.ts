/** Four postings around a place, in the file's row order; NaN where void. */
export interface Corners {
  readonly v00: number;
  /** Next column. */
  readonly v01: number;
  /** Next row. */
  readonly v10: number;
  readonly v11: number;
}

// A posting of the file's own grid, reached through its header's rounded steps, misses a whole number by up
// to 4e-8 of a cell (10,812 columns of 1/3″ with 16 digits). Snapping costs at most 1e-7 of the step in height.
const SNAP_CELLS = 1e-7;

/** A position in cells, put on the posting where it is one but for rounding. */
export function snapped(cells: number): number {
  const nearest = Math.round(cells);
  return Math.abs(cells - nearest) <= SNAP_CELLS ? nearest : cells;
}

/**
 * Height between four postings by bilinear interpolation, metres. A void posting that has weight makes it `null`;
 * one without weight does not count, so a place on a row, column or posting needs only what lies there.
 * @example bilinear({ v00: 0, v01: 10, v10: 20, v11: 30 }, 0.5, 0.5) // 15
 */
export function bilinear(corners: Corners, columnWeight: number, rowWeight: number): number | null {
  const { v00, v01, v10, v11 } = corners;
  const height = blend(v00, v01, v10, v11, columnWeight, rowWeight);
  return Number.isNaN(height) ? null : height;
}

/** As `bilinear`, with NaN where void: for the many places of a block. */
// biome-ignore lint/complexity/useMaxParams: the four postings and two weights of a place
export function blend(
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
