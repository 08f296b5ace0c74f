import type { Tile } from './tile.ts';

/** Whole-degree cells of the globe, each with the tiles that reach it, in order of priority. */
export interface TileIndex {
  /** Indexes of the tiles that may have postings at or within one cell of the place, first priority first. */
  near(lonDeg: number, latDeg: number): readonly number[];
}

const NONE: readonly number[] = [];

/** The cell of which these are the western and the southern edge, any number of turns away. */
const cellOf = (westDeg: number, southDeg: number): number => {
  const column = westDeg - 360 * Math.floor(westDeg / 360);
  const row = Math.min(179, Math.max(0, southDeg + 90));
  return row * 360 + column;
};

// The outline of a projected tile is known from points along it; between them it may bulge by 0.015° where the tile spans a
// continent. So much wider costs nothing: the tile itself says whether a place is inside (design).
const MARGIN_DEG = 0.02;

/** Index of the tiles by extent, a little wider on each side; `tiles` come in order of priority. */
export function tileIndex(tiles: readonly Tile[]): TileIndex {
  const cells = new Map<number, number[]>();
  tiles.forEach(({ info }, tile) => {
    const marginLonDeg = Math.max(info.stepLonDeg, MARGIN_DEG);
    const marginLatDeg = Math.max(info.stepLatDeg, MARGIN_DEG);
    const west = Math.floor(info.westDeg - marginLonDeg);
    const east = Math.min(Math.floor(info.eastDeg + marginLonDeg), west + 359);
    const south = Math.max(-90, Math.floor(info.southDeg - marginLatDeg));
    const north = Math.min(89, Math.floor(info.northDeg + marginLatDeg));
    for (let latDeg = south; latDeg <= north; latDeg += 1) {
      for (let lonDeg = west; lonDeg <= east; lonDeg += 1) {
        const cell = cellOf(lonDeg, latDeg);
        const held = cells.get(cell);
        if (held === undefined) cells.set(cell, [tile]);
        else held.push(tile);
      }
    }
  });
  // A line stays in a cell for long.
  let lastWest = Number.NaN;
  let lastSouth = Number.NaN;
  let lastNear = NONE;
  return {
    near(lonDeg, latDeg) {
      const west = Math.floor(lonDeg);
      const south = Math.floor(latDeg);
      if (west !== lastWest || south !== lastSouth) {
        lastWest = west;
        lastSouth = south;
        lastNear = cells.get(cellOf(west, south)) ?? NONE;
      }
      return lastNear;
    },
  };
}
