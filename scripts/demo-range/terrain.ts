import { type ErodingGrid, erode } from './erosion.ts';
import { fillHollows } from './fill-hollows.ts';
import { COLUMN_M, COLUMNS, ROW_M, ROWS, type Spot } from './frame.ts';
import { fractalNoise, ridgedNoise } from './noise.ts';
import { inland, plannedHeightM, slopeLimit, softness } from './plan.ts';

/** The finished ground: whole metres, `COLUMNS` by `ROWS`, rows from the north; sea is 0. */
export type Terrain = Int16Array;

/** Plans the island, lets rivers cut it, adds rock and roughness, and drains it. */
export function makeTerrain(seed: number): Terrain {
  let grid = planGrid(seed, 4, null);
  erode(grid, 60, 0.012, 0.1);
  grid = planGrid(seed, 2, grid);
  erode(grid, 20, 0.012, 0.1);
  return roughen(grid, seed);
}

/** The planned ground with one cell every `every` postings, its heights taken from a coarser grid if there is one. */
function planGrid(seed: number, every: number, coarse: ErodingGrid | null): ErodingGrid {
  const columns = (COLUMNS - 1) / every + 1;
  const rows = (ROWS - 1) / every + 1;
  const count = columns * rows;
  const grid: ErodingGrid = {
    columns,
    rows,
    columnM: COLUMN_M * every,
    rowM: ROW_M * every,
    heightsM: new Float32Array(count),
    sea: new Uint8Array(count),
    softness: new Float32Array(count),
    slopeLimit: new Float32Array(count),
  };
  for (let i = 0; i < count; i++) {
    const column = i % columns;
    const row = (i - column) / columns;
    const eastKm = (column * grid.columnM) / 1000;
    const southKm = (row * grid.rowM) / 1000;
    const sea = inland(eastKm, southKm, seed) <= 0;
    grid.sea[i] = sea ? 1 : 0;
    grid.softness[i] = softness(eastKm, southKm, seed);
    grid.slopeLimit[i] = slopeLimit(eastKm, southKm, seed);
    if (sea) continue;
    grid.heightsM[i] =
      coarse === null
        ? plannedHeightM(eastKm, southKm, seed)
        : Math.max(1, cubicHeight(coarse, column / 2, row / 2));
    if ((grid.heightsM[i] ?? 0) < 1) grid.heightsM[i] = 1;
  }
  return grid;
}

const cubic = (a: number, b: number, c: number, d: number, t: number): number =>
  b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));

/** Height between cells by Catmull-Rom cubics (Keys 1981, a = -0.5, from memory). */
function cubicHeight(grid: ErodingGrid, column: number, row: number): number {
  const c0 = Math.min(grid.columns - 2, Math.floor(column));
  const r0 = Math.min(grid.rows - 2, Math.floor(row));
  const at = (c: number, r: number): number => {
    const inColumn = Math.min(grid.columns - 1, Math.max(0, c));
    const inRow = Math.min(grid.rows - 1, Math.max(0, r));
    return grid.heightsM[inRow * grid.columns + inColumn] ?? 0;
  };
  const across = (r: number): number =>
    cubic(at(c0 - 1, r), at(c0, r), at(c0 + 1, r), at(c0 + 2, r), column - c0);
  return cubic(across(r0 - 1), across(r0), across(r0 + 1), across(r0 + 2), row - r0);
}

/** The eroded ground at full size, with roughness that grows with height, in whole metres and without hollows. */
function roughen(grid: ErodingGrid, seed: number): Terrain {
  const terrain = new Int16Array(COLUMNS * ROWS);
  for (let row = 0; row < ROWS; row++) {
    for (let column = 0; column < COLUMNS; column++) {
      const eastKm = (column * COLUMN_M) / 1000;
      const southKm = (row * ROW_M) / 1000;
      if (inland(eastKm, southKm, seed) <= 0) continue;
      const baseM = cubicHeight(grid, column / 2, row / 2);
      const roughM = 3 + 10 * Math.min(1, Math.max(0, baseM) / 2500);
      const rock = ridgedNoise(eastKm / 0.35, southKm / 0.35, seed + 100, 3) - 0.5;
      const grain = fractalNoise(eastKm / 0.12, southKm / 0.12, seed + 120, 2);
      const heightM = baseM + roughM * (1.2 * rock + 0.5 * grain);
      terrain[row * COLUMNS + column] = Math.max(1, Math.round(heightM));
    }
  }
  fillHollows(terrain, COLUMNS, ROWS, 0);
  return terrain;
}

/** Height of the ground at a spot, metres, bilinear between postings; beyond the box is a mistake. */
export function heightAt(terrain: Terrain, spot: Spot): number {
  const column = spot.xM / COLUMN_M;
  const row = spot.yM / ROW_M;
  const c0 = Math.min(COLUMNS - 2, Math.floor(column));
  const r0 = Math.min(ROWS - 2, Math.floor(row));
  if (c0 < 0 || r0 < 0 || column > COLUMNS - 1 || row > ROWS - 1)
    throw new RangeError('spot beyond the demo');
  const i = r0 * COLUMNS + c0;
  const u = column - c0;
  const northM = (terrain[i] ?? 0) * (1 - u) + (terrain[i + 1] ?? 0) * u;
  const southM = (terrain[i + COLUMNS] ?? 0) * (1 - u) + (terrain[i + COLUMNS + 1] ?? 0) * u;
  return northM + (southM - northM) * (row - r0);
}
