import { at } from '../array.ts';
import { nearestTurnDeg } from '../earth/geodesic.ts';
import { snapped } from './bilinear.ts';
import { type Projection, projectionOfCrs } from './projection.ts';
import type { Heights } from './samples.ts';
import type { Grid, Tile } from './tile.ts';
import type { TileIndex } from './tile-index.ts';

/** Decoded blocks of the tiles: at once where cached. A block that cannot be read is void. */
export interface BlockReader {
  block(tile: number, blockX: number, blockY: number): Heights | Promise<Heights>;
}

export interface TileSet {
  /** In order of priority. */
  readonly tiles: readonly Tile[];
  readonly index: TileIndex;
  readonly blocks: BlockReader;
}

export const tileAt = ({ tiles }: TileSet, index: number): Tile => at(tiles, index);

/** A place in cells of one tile's grid. */
export interface Position {
  readonly column: number;
  readonly row: number;
}

/** What turns places into a tile's own plane, made once a tile. */
interface Locator {
  /** `null` where the grid is in degrees. */
  readonly projection: Projection | null;
  readonly middleX: number;
}

const locators = new WeakMap<Tile, Locator>();

export function locatorOf(tile: Tile): Locator {
  const held = locators.get(tile);
  if (held !== undefined) return held;
  const made: Locator = {
    projection: projectionOfCrs(tile.info.crs),
    middleX: tile.x0 + ((tile.width - 1) * tile.dx) / 2,
  };
  locators.set(tile, made);
  return made;
}

/** Longitudes may be unwrapped by any number of turns: the turn that lies nearest the tile's middle is taken. */
export const turned = (lonDeg: number, middleDeg: number): number =>
  Math.abs(middleDeg - lonDeg) > 180 ? nearestTurnDeg(lonDeg, middleDeg) : lonDeg;

/** Where a place lies along one axis of a grid. */
export const cellsAlong = (place: number, first: number, step: number): number =>
  snapped((place - first) / step);

export function locate(tile: Tile, lonDeg: number, latDeg: number): Position {
  const { projection, middleX } = locatorOf(tile);
  const [x, y] = projection?.forward(lonDeg, latDeg) ?? [turned(lonDeg, middleX), latDeg];
  return { column: cellsAlong(x, tile.x0, tile.dx), row: cellsAlong(y, tile.y0, tile.dy) };
}

/** The place of a posting, which may lie beyond the grid; degrees. */
export function placeOf(tile: Tile, column: number, row: number): readonly [lonDeg: number, latDeg: number] {
  const x = tile.x0 + column * tile.dx;
  const y = tile.y0 + row * tile.dy;
  return locatorOf(tile).projection?.inverse(x, y) ?? [x, y];
}

export const inside = (grid: Grid, { column, row }: Position): boolean =>
  column >= 0 && row >= 0 && column <= grid.width - 1 && row <= grid.height - 1;

/** Inside, or in the gap of less than a cell that tiles without overlap leave between them. */
export const withinOneCell = (grid: Grid, { column, row }: Position): boolean =>
  column > -1 && row > -1 && column < grid.width && row < grid.height;

/** A raster round the whole globe is its own neighbour across the last meridian. */
export const goesRound = (tile: Tile): boolean =>
  locatorOf(tile).projection === null && tile.width * tile.dx > 359.5;
