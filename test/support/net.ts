import type { Lattice } from '../../src/terrain/lattice.ts';

/** A lattice of heights by a formula of metres east and south of its top left, for maps in tests. */
export function netOf(
  columns: number,
  rows: number,
  stepM: number,
  heightAt: (eastM: number, southM: number) => number,
): Lattice {
  const heightsM = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      heightsM[row * columns + column] = heightAt(column * stepM, row * stepM);
    }
  }
  return {
    westDeg: -30.3,
    northDeg: 46.2,
    stepLonDeg: 0.0004,
    stepLatDeg: 0.0003,
    columns,
    rows,
    eastM: stepM,
    southM: stepM,
    heightsM,
    sourceIndexes: [0],
  };
}
