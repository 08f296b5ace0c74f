const DEG_PER_RAD = 180 / Math.PI;

/**
 * By how much the ground rises, over one cell, from one side of a window of three by three heights to the other, in
 * metres: three heights of either side, the middle one counted twice. NaN where one of them is.
 * B. K. P. Horn, Hill shading and the reflectance map, *Proc. IEEE* 69(1):14–47, 1981 (weights from memory).
 */
// biome-ignore lint/complexity/useMaxParams: three heights of either side
export const hornRiseM = (
  fromA: number,
  fromMiddle: number,
  fromB: number,
  toA: number,
  toMiddle: number,
  toB: number,
): number => (toA - fromA + (toB - fromB) + 2 * (toMiddle - fromMiddle)) / 8;

/**
 * Steepness of the ground in degrees by Horn's method. `null` where one of the nine is not known.
 *
 * @param at the height in a row of the window (0 to 2, from the north) and a column (0 to 2, from the west), metres
 * @param cellXM metres between columns
 * @param cellYM metres between rows
 * @example hornSlopeDeg((row, column) => 10 * column, 10, 10) // 45
 */
export function hornSlopeDeg(
  at: (row: number, column: number) => number | null,
  cellXM: number,
  cellYM: number,
): number | null {
  const height = (row: number, column: number): number => at(row, column) ?? Number.NaN;
  const [nw, n, ne] = [height(0, 0), height(0, 1), height(0, 2)];
  const [sw, s, se] = [height(2, 0), height(2, 1), height(2, 2)];
  const eastward = hornRiseM(nw, height(1, 0), sw, ne, height(1, 2), se) / cellXM;
  const southward = hornRiseM(nw, n, ne, sw, s, se) / cellYM;
  const slopeDeg = Math.atan(Math.hypot(eastward, southward)) * DEG_PER_RAD;
  // The middle one has no weight, but without it the ground there is not known.
  return Number.isNaN(slopeDeg) || at(1, 1) === null ? null : slopeDeg;
}
