import type { Grid } from './tile.ts';

/** Whole-degree cells of the globe, each with the tiles that reach it, in order of priority. */
export interface TileIndex {
  /** Indexes of the tiles that may have postings at or within one cell of the place, first priority first. */
  near(lonDeg: number, latDeg: number): readonly number[];
}

const NONE: readonly number[] = [];

const cellOf = (lonDeg: number, latDeg: number): number => {
  const column = Math.floor(lonDeg) - 360 * Math.floor(Math.floor(lonDeg) / 360);
  const row = Math.min(179, Math.max(0, Math.floor(latDeg) + 90));
  return row * 360 + column;
};

/** Index of the tiles by extent, one posting step wider on each side; `grids` come in order of priority. */
export function tileIndex(grids: readonly Grid[]): TileIndex {
  const cells = new Map<number, number[]>();
  grids.forEach((grid, tile) => {
    const lastY = grid.y0 + (grid.height - 1) * grid.dy;
    const step = Math.abs(grid.dy);
    const west = Math.floor(grid.x0 - grid.dx);
    const east = Math.min(Math.floor(grid.x0 + grid.width * grid.dx), west + 359);
    const south = Math.max(-90, Math.floor(Math.min(grid.y0, lastY) - step));
    const north = Math.min(89, Math.floor(Math.max(grid.y0, lastY) + step));
    for (let latDeg = south; latDeg <= north; latDeg += 1) {
      for (let lonDeg = west; lonDeg <= east; lonDeg += 1) {
        const cell = cellOf(lonDeg, latDeg);
        const held = cells.get(cell);
        if (held === undefined) cells.set(cell, [tile]);
        else held.push(tile);
      }
    }
  });
  return { near: (lonDeg, latDeg) => cells.get(cellOf(lonDeg, latDeg)) ?? NONE };
}
