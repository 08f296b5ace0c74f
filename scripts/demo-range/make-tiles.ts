import { COLUMNS, NORTH_DEG, ROWS, STEPS_PER_DEG, WEST_DEG } from './frame.ts';
import type { OutputFile } from './make-routes.ts';
import type { Terrain } from './terrain.ts';
import { writeGeotiff } from './write-geotiff.ts';

/** The ground as two tiles that share their middle column, below `dem/`. */
export function tileFiles(terrain: Terrain): OutputFile[] {
  const columns = (COLUMNS + 1) / 2;
  return ['west', 'east'].map((side, k) => {
    const firstColumn = k * (columns - 1);
    const heightsM = new Int16Array(columns * ROWS);
    for (let row = 0; row < ROWS; row++) {
      const from = row * COLUMNS + firstColumn;
      heightsM.set(terrain.subarray(from, from + columns), row * columns);
    }
    const westDeg = (WEST_DEG * STEPS_PER_DEG + firstColumn) / STEPS_PER_DEG;
    const grid = { westDeg, northDeg: NORTH_DEG, stepsPerDeg: STEPS_PER_DEG, columns, rows: ROWS, heightsM };
    return { path: `dem/corvanney-${side}.tif`, content: writeGeotiff(grid) };
  });
}
