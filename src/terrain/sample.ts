import { bilinear, snapped } from './bilinear.ts';
import type { HeightSamples } from './surface.ts';
import type { Grid, Tile } from './tile.ts';
import type { TileIndex } from './tile-index.ts';

/** Decoded blocks of the tiles: at once where cached. Never fails: a block that cannot be read is void. */
export interface BlockReader {
  block(tile: number, blockX: number, blockY: number): Float64Array | Promise<Float64Array>;
}

export interface TileSet {
  /** In order of priority. */
  readonly tiles: readonly Tile[];
  readonly index: TileIndex;
  readonly blocks: BlockReader;
}

/** A place in cells of one tile's grid. */
interface Position {
  readonly column: number;
  readonly row: number;
}

/** Longitudes may be unwrapped by any number of turns: the turn that lies nearest the tile's middle is taken. */
function locate(grid: Grid, lonDeg: number, latDeg: number): Position {
  const middleDeg = grid.x0 + ((grid.width - 1) * grid.dx) / 2;
  const turnedDeg = lonDeg + 360 * Math.round((middleDeg - lonDeg) / 360);
  return {
    column: snapped((turnedDeg - grid.x0) / grid.dx),
    row: snapped((latDeg - grid.y0) / grid.dy),
  };
}

const inside = (grid: Grid, { column, row }: Position): boolean =>
  column >= 0 && row >= 0 && column <= grid.width - 1 && row <= grid.height - 1;

/** Inside, or in the gap of less than a cell that tiles without overlap leave between them. */
const withinOneCell = (grid: Grid, { column, row }: Position): boolean =>
  column > -1 && row > -1 && column < grid.width && row < grid.height;

/** A raster round the whole globe is its own neighbour across the last meridian. */
const goesRound = (grid: Grid): boolean => grid.width * grid.dx > 359.5;

// "The same posting in another tile": closer than this share of the finer of the two cells (inputs 2.3).
const SAME_POSTING_CELLS = 0.1;

/**
 * Bilinear heights of the places, metres; `null` where no tile knows.
 *
 * First the tile of first priority whose four postings are valid there. Where there is none, each posting
 * of the first tile's grid is fetched on its own, from any tile that has it: so a seam between tiles
 * without overlap is as good as their inside. Places are grouped by block; a block is read once a call.
 */
export async function sampleHeights(
  set: TileSet,
  lonsDeg: ArrayLike<number>,
  latsDeg: ArrayLike<number>,
): Promise<HeightSamples> {
  const count = lonsDeg.length;
  if (latsDeg.length !== count) throw new RangeError(`${count} longitudes but ${latsDeg.length} latitudes`);
  for (let i = 0; i < count; i += 1)
    if (!Number.isFinite(lonsDeg[i]) || !Number.isFinite(latsDeg[i]))
      throw new RangeError(`place ${i} is not a position`);

  const heightsM: (number | null)[] = new Array(count).fill(null);
  const sourceIndexes: (number | null)[] = new Array(count).fill(null);
  const unanswered = await sampleWithinTiles(set, lonsDeg, latsDeg, heightsM, sourceIndexes);
  for (const i of unanswered) {
    const lonDeg = Number(lonsDeg[i]);
    const latDeg = Number(latsDeg[i]);
    for (const tile of seamTiles(set, lonDeg, latDeg)) {
      const height = await gather(set, tile, lonDeg, latDeg);
      if (height === null) continue;
      heightsM[i] = height;
      sourceIndexes[i] = tile;
      break;
    }
  }
  return { heightsM, sourceIndexes };
}

/** Places that wait for one block of one tile, with their positions. */
interface Group {
  readonly tile: number;
  readonly blockX: number;
  readonly blockY: number;
  readonly places: number[];
  readonly columns: number[];
  readonly rows: number[];
}

/** Step one of the recipe: in rounds, each place asks its next tile. Gives the places left over. */
async function sampleWithinTiles(
  set: TileSet,
  lonsDeg: ArrayLike<number>,
  latsDeg: ArrayLike<number>,
  heightsM: (number | null)[],
  sourceIndexes: (number | null)[],
): Promise<number[]> {
  const left: number[] = [];
  const asked = new Int32Array(lonsDeg.length);
  let waiting = Array.from({ length: lonsDeg.length }, (_, i) => i);
  while (waiting.length > 0) {
    const groups = new Map<string, Group>();
    for (const i of waiting) {
      const lonDeg = Number(lonsDeg[i]);
      const latDeg = Number(latsDeg[i]);
      const near = set.index.near(lonDeg, latDeg);
      let next = asked[i] ?? 0;
      let joined = false;
      for (; next < near.length && !joined; next += 1) {
        const tile = near[next] ?? 0;
        const grid = tileAt(set, tile);
        const position = locate(grid, lonDeg, latDeg);
        if (!inside(grid, position)) continue;
        join(groups, grid, tile, i, position);
        joined = true;
      }
      asked[i] = next;
      if (!joined) left.push(i);
    }
    waiting = [];
    for (const group of groups.values()) {
      const heights = await answer(set, group);
      heights.forEach((height, k) => {
        const i = group.places[k] ?? 0;
        if (height === null) waiting.push(i);
        else {
          heightsM[i] = height;
          sourceIndexes[i] = group.tile;
        }
      });
    }
  }
  return left;
}

function tileAt({ tiles }: TileSet, index: number): Tile {
  const tile = tiles[index];
  if (tile === undefined) throw new RangeError(`no tile ${index}`);
  return tile;
}

function join(
  groups: Map<string, Group>,
  tile: Tile,
  index: number,
  place: number,
  position: Position,
): void {
  const blockX = Math.floor(Math.floor(position.column) / tile.blockWidth);
  const blockY = Math.floor(Math.floor(position.row) / tile.blockHeight);
  const key = `${index}/${blockX}/${blockY}`;
  let group = groups.get(key);
  if (group === undefined) {
    group = { tile: index, blockX, blockY, places: [], columns: [], rows: [] };
    groups.set(key, group);
  }
  group.places.push(place);
  group.columns.push(position.column);
  group.rows.push(position.row);
}

/** Heights of a group's places, which need its block and at most the three next to it. */
async function answer(set: TileSet, group: Group): Promise<(number | null)[]> {
  const tile = tileAt(set, group.tile);
  const { blockWidth, blockHeight } = tile;
  const firstColumn = group.blockX * blockWidth;
  const firstRow = group.blockY * blockHeight;
  const overRight = group.columns.some((column) => needsNext(column, firstColumn + blockWidth - 1));
  const overDown = group.rows.some((row) => needsNext(row, firstRow + blockHeight - 1));
  const at = (x: number, y: number) => set.blocks.block(group.tile, group.blockX + x, group.blockY + y);
  const here = await at(0, 0);
  const right = overRight ? await at(1, 0) : null;
  const down = overDown ? await at(0, 1) : null;
  const diagonal = overRight && overDown ? await at(1, 1) : null;

  const value = (column: number, row: number): number => {
    const x = column - firstColumn;
    const y = row - firstRow;
    const block = x < blockWidth ? (y < blockHeight ? here : down) : y < blockHeight ? right : diagonal;
    return block?.[(y % blockHeight) * blockWidth + (x % blockWidth)] ?? Number.NaN;
  };
  return group.columns.map((column, k) => {
    const row = group.rows[k] ?? 0;
    const c = Math.floor(column);
    const r = Math.floor(row);
    // Beside the last column or row the neighbour has no weight; NaN stands for it.
    const corners = {
      v00: value(c, r),
      v01: value(c + 1, r),
      v10: value(c, r + 1),
      v11: value(c + 1, r + 1),
    };
    return bilinear(corners, column - c, row - r);
  });
}

/** Whether a position leans on the posting after `last`: it lies beyond it by more than nothing. */
const needsNext = (position: number, last: number): boolean => position > last;

/** Tiles whose grid may be completed from others at a place, first priority first. */
function seamTiles(set: TileSet, lonDeg: number, latDeg: number): number[] {
  const near = set.index.near(lonDeg, latDeg).filter((tile) => {
    const grid = tileAt(set, tile);
    return withinOneCell(grid, locate(grid, lonDeg, latDeg));
  });
  const [only] = near;
  return near.length > 1 || (only !== undefined && goesRound(tileAt(set, only))) ? near : [];
}

/** Step two of the recipe: the postings of one tile's grid, each from whichever tile has it. */
async function gather(set: TileSet, index: number, lonDeg: number, latDeg: number): Promise<number | null> {
  const grid = tileAt(set, index);
  const { column, row } = locate(grid, lonDeg, latDeg);
  const c = Math.floor(column);
  const r = Math.floor(row);
  const columnWeight = column - c;
  const rowWeight = row - r;
  const fetch = async (dc: 0 | 1, dr: 0 | 1): Promise<number> => {
    if ((dc === 1 && columnWeight === 0) || (dr === 1 && rowWeight === 0)) return Number.NaN;
    const own = await posting(set, index, c + dc, r + dr);
    return Number.isNaN(own) ? postingElsewhere(set, index, c + dc, r + dr) : own;
  };
  const v00 = await fetch(0, 0);
  // Most places in a real void end here.
  if (Number.isNaN(v00)) return null;
  return bilinear(
    { v00, v01: await fetch(1, 0), v10: await fetch(0, 1), v11: await fetch(1, 1) },
    columnWeight,
    rowWeight,
  );
}

/** One posting of one tile; NaN outside its grid and where void. */
async function posting(set: TileSet, index: number, column: number, row: number): Promise<number> {
  const tile = tileAt(set, index);
  if (!inside(tile, { column, row })) return Number.NaN;
  const blockX = Math.floor(column / tile.blockWidth);
  const blockY = Math.floor(row / tile.blockHeight);
  const held = set.blocks.block(index, blockX, blockY);
  const block = held instanceof Float64Array ? held : await held;
  const x = column - blockX * tile.blockWidth;
  const y = row - blockY * tile.blockHeight;
  return block[y * tile.blockWidth + x] ?? Number.NaN;
}

/**
 * The height that another tile gives where a tile's own posting is void or lies outside its grid. Bilinear
 * in the other tile where it can be, which is exact on its own postings too; else its nearest posting
 * within a tenth of a cell.
 */
async function postingElsewhere(set: TileSet, index: number, column: number, row: number): Promise<number> {
  const home = tileAt(set, index);
  const lonDeg = home.x0 + column * home.dx;
  const latDeg = home.y0 + row * home.dy;
  const isOutside = !inside(home, { column, row });
  for (const other of set.index.near(lonDeg, latDeg)) {
    if (other === index && !isOutside) continue;
    const grid = tileAt(set, other);
    const position = locate(grid, lonDeg, latDeg);
    if (!withinOneCell(grid, position)) continue;
    const between = await bilinearIn(set, other, position);
    if (between !== null) return between;
    const c = Math.round(position.column);
    const r = Math.round(position.row);
    const offX = Math.abs(position.column - c) * Math.max(1, grid.dx / home.dx);
    const offY = Math.abs(position.row - r) * Math.max(1, Math.abs(grid.dy / home.dy));
    if (offX > SAME_POSTING_CELLS || offY > SAME_POSTING_CELLS) continue;
    const nearest = await posting(set, other, c, r);
    if (!Number.isNaN(nearest)) return nearest;
  }
  return Number.NaN;
}

async function bilinearIn(set: TileSet, index: number, position: Position): Promise<number | null> {
  if (!inside(tileAt(set, index), position)) return null;
  const c = Math.floor(position.column);
  const r = Math.floor(position.row);
  return bilinear(
    {
      v00: await posting(set, index, c, r),
      v01: await posting(set, index, c + 1, r),
      v10: await posting(set, index, c, r + 1),
      v11: await posting(set, index, c + 1, r + 1),
    },
    position.column - c,
    position.row - r,
  );
}
