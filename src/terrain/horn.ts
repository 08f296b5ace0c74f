const DEG_PER_RAD = 180 / Math.PI;

/**
 * Steepness of the ground in degrees by Horn's method: differences over a window of three by three heights with
 * weights 1, 2, 1 (Horn 1981, *Proc. IEEE* 69(1):14–47, from memory). `null` where one of the nine is not known.
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
  let eastward = 0;
  let southward = 0;
  for (let row = 0; row < 3; row += 1) {
    for (let column = 0; column < 3; column += 1) {
      const height = at(row, column);
      if (height === null) return null;
      eastward += height * (column - 1) * (row === 1 ? 2 : 1);
      southward += height * (row - 1) * (column === 1 ? 2 : 1);
    }
  }
  return Math.atan(Math.hypot(eastward / (8 * cellXM), southward / (8 * cellYM))) * DEG_PER_RAD;
}
