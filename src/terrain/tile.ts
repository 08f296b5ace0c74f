import { geodesicM } from '../earth/geodesic.ts';
import type { Note } from '../errors.ts';
import type { TileInfo } from './surface.ts';

/**
 * Where the postings of a regular grid lie: posting (column, row) stands at
 * `x = x0 + column·dx`, `y = y0 + row·dy`, in the units of the tile's own system (degrees today).
 * Everything inside this folder speaks of posting centres, never of pixel corners.
 */
export interface Grid {
  readonly x0: number;
  readonly y0: number;
  /** Always positive. */
  readonly dx: number;
  /** Negative in a north-up file, which nearly all are. */
  readonly dy: number;
  readonly width: number;
  readonly height: number;
}

/** One open elevation file: a grid whose heights are read a block at a time. */
export interface Tile extends Grid {
  readonly info: TileInfo;
  readonly blockWidth: number;
  readonly blockHeight: number;
  /**
   * Heights of one block in metres, row by row, `blockWidth × blockHeight` of them; the unit, scale and
   * offset of the file are already applied. Void postings, and places of an edge block outside the
   * grid, are NaN: inside this typed array only, where `null` cannot stand. Callers turn it into `null`.
   * @throws Error where the bytes cannot be read or decoded; the caller counts the block as void.
   */
  readBlock(blockX: number, blockY: number): Promise<Float64Array>;
}

/** What a reader knows of a tile besides its grid. */
export interface TileFacts {
  readonly path: string;
  readonly format: TileInfo['format'];
  readonly crs: string;
  readonly unit: TileInfo['unit'];
  readonly unitAssumed: boolean;
  readonly verticalReference: string | null;
  readonly nodata: number | null;
  readonly version: string;
  readonly notes: readonly Note[];
}

/** The description of a tile in degrees, from its grid and its header's facts. */
export function tileInfo(grid: Grid, facts: TileFacts): TileInfo {
  const eastDeg = grid.x0 + (grid.width - 1) * grid.dx;
  const lastLatDeg = grid.y0 + (grid.height - 1) * grid.dy;
  const stepLatDeg = Math.abs(grid.dy);
  const middle = { lonDeg: (grid.x0 + eastDeg) / 2, latDeg: (grid.y0 + lastLatDeg) / 2 };
  // Stepping towards the equator keeps a tile at the pole on the globe.
  const towardsEquatorDeg = middle.latDeg > 0 ? -stepLatDeg : stepLatDeg;
  return {
    ...facts,
    attribution: [],
    licence: null,
    dateMs: null,
    westDeg: grid.x0,
    southDeg: Math.min(grid.y0, lastLatDeg),
    eastDeg,
    northDeg: Math.max(grid.y0, lastLatDeg),
    columns: grid.width,
    rows: grid.height,
    stepLonDeg: grid.dx,
    stepLatDeg,
    postingM: Math.max(
      geodesicM(middle, { lonDeg: middle.lonDeg + grid.dx, latDeg: middle.latDeg }),
      geodesicM(middle, { lonDeg: middle.lonDeg, latDeg: middle.latDeg + towardsEquatorDeg }),
    ),
  };
}

/** How many blocks lie side by side, and how many one above the other. */
export function blockCounts(tile: Tile): { readonly across: number; readonly down: number } {
  return { across: Math.ceil(tile.width / tile.blockWidth), down: Math.ceil(tile.height / tile.blockHeight) };
}

/** Heights outside this range are not terrain anyone walks: the Dead Sea shore is at −430 m, Everest at 8,849 m (inputs: SRTM and 3DEP fills lie beyond). */
export const LOWEST_GROUND_M = -500;
export const HIGHEST_GROUND_M = 9000;
