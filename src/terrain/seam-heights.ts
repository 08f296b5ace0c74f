import { at } from '../array.ts';
import { bilinear } from './bilinear.ts';
import {
  goesRound,
  inside,
  locate,
  type Position,
  placeOf,
  type TileSet,
  tileAt,
  withinOneCell,
} from './tile-position.ts';

// "The same posting in another tile": closer than this share of the finer of the two cells (inputs 2.3).
const SAME_POSTING_CELLS = 0.1;

/** Tiles whose grid may be completed from others at a place, first priority first. */
export function seamTiles(set: TileSet, lonDeg: number, latDeg: number): number[] {
  const near = set.index.near(lonDeg, latDeg).filter((tile) => {
    const there = tileAt(set, tile);
    return withinOneCell(there, locate(there, lonDeg, latDeg));
  });
  const [only] = near;
  return near.length > 1 || (only !== undefined && goesRound(tileAt(set, only))) ? near : [];
}

/** Step two of the recipe: the postings of one tile's grid, each from whichever tile has it; NaN where none has. */
export async function heightAcrossSeam(
  set: TileSet,
  index: number,
  lonDeg: number,
  latDeg: number,
): Promise<number> {
  const { column, row } = locate(tileAt(set, index), lonDeg, latDeg);
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
  if (Number.isNaN(v00)) return Number.NaN;
  return bilinear(v00, await fetch(1, 0), await fetch(0, 1), await fetch(1, 1), columnWeight, rowWeight);
}

/** One posting of one tile; NaN outside its grid and where void. */
async function posting(set: TileSet, index: number, column: number, row: number): Promise<number> {
  const tile = tileAt(set, index);
  if (!inside(tile, { column, row })) return Number.NaN;
  const blockX = Math.floor(column / tile.blockWidth);
  const blockY = Math.floor(row / tile.blockHeight);
  const held = set.blocks.block(index, blockX, blockY);
  const block = held instanceof Promise ? await held : held;
  const x = column - blockX * tile.blockWidth;
  const y = row - blockY * tile.blockHeight;
  return at(block, y * tile.blockWidth + x);
}

/**
 * The height that another tile gives where a tile's own posting is void or lies outside its grid. Bilinear
 * in the other tile where it can be, which is exact on its own postings too; else its nearest posting
 * within a tenth of a cell.
 */
async function postingElsewhere(set: TileSet, index: number, column: number, row: number): Promise<number> {
  const home = tileAt(set, index);
  const [lonDeg, latDeg] = placeOf(home, column, row);
  const isOutside = !inside(home, { column, row });
  for (const other of set.index.near(lonDeg, latDeg)) {
    if (other === index && !isOutside) continue;
    const there = tileAt(set, other);
    const position = locate(there, lonDeg, latDeg);
    if (!withinOneCell(there, position)) continue;
    const between = await bilinearIn(set, other, position);
    if (!Number.isNaN(between)) return between;
    const c = Math.round(position.column);
    const r = Math.round(position.row);
    const offX = Math.abs(position.column - c) * Math.max(1, there.info.stepLonDeg / home.info.stepLonDeg);
    const offY = Math.abs(position.row - r) * Math.max(1, there.info.stepLatDeg / home.info.stepLatDeg);
    if (offX > SAME_POSTING_CELLS || offY > SAME_POSTING_CELLS) continue;
    const nearest = await posting(set, other, c, r);
    if (!Number.isNaN(nearest)) return nearest;
  }
  return Number.NaN;
}

async function bilinearIn(set: TileSet, index: number, position: Position): Promise<number> {
  if (!inside(tileAt(set, index), position)) return Number.NaN;
  const c = Math.floor(position.column);
  const r = Math.floor(position.row);
  const v00 = await posting(set, index, c, r);
  const v01 = await posting(set, index, c + 1, r);
  const v10 = await posting(set, index, c, r + 1);
  const v11 = await posting(set, index, c + 1, r + 1);
  return bilinear(v00, v01, v10, v11, position.column - c, position.row - r);
}
