import { setImmediate } from 'node:timers/promises';
import { bilinear, blend, snapped } from './bilinear.ts';
import { type Projection, projectionOfCrs } from './projection.ts';
import type { Heights } from './samples.ts';
import type { HeightSamples } from './surface.ts';
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

/** Groups whose blocks are read ahead of the one that is answered (design: keeps both threads and the disk busy). */
const GROUPS_AHEAD = 5;
/** Places done before others get a turn (design: under 1 ms, 3 ms before it is compiled). */
const PLACES_A_TURN = 4096;
/** As that, for places on a seam or in a void, each a search of its own. */
const SEAM_PLACES_A_TURN = 512;

/** A place in cells of one tile's grid. */
interface Position {
  readonly column: number;
  readonly row: number;
}

/** What turns places into cells of one tile, made once a tile. */
interface Locator {
  /** `null` where the grid is in degrees. */
  readonly projection: Projection | null;
  /** Writes column and row into `cells`. */
  locate(lonDeg: number, latDeg: number, cells: Float64Array): void;
}

const locators = new WeakMap<Tile, Locator>();

function locatorOf(tile: Tile): Locator {
  const held = locators.get(tile);
  if (held !== undefined) return held;
  const made = makeLocator(tile);
  locators.set(tile, made);
  return made;
}

function makeLocator({ x0, y0, dx, dy, width, info }: Tile): Locator {
  const projection = projectionOfCrs(info.crs);
  const middleDeg = x0 + ((width - 1) * dx) / 2;
  return {
    projection,
    locate(lonDeg, latDeg, cells) {
      let x = lonDeg;
      let y = latDeg;
      if (projection !== null) [x, y] = projection.forward(lonDeg, latDeg);
      // Longitudes may be unwrapped by any number of turns: the turn that lies nearest the tile's middle is taken.
      else if (Math.abs(middleDeg - x) > 180) x += 360 * Math.round((middleDeg - x) / 360);
      cells[0] = snapped((x - x0) / dx);
      cells[1] = snapped((y - y0) / dy);
    },
  };
}

function locate(tile: Tile, lonDeg: number, latDeg: number): Position {
  const cells = new Float64Array(2);
  locatorOf(tile).locate(lonDeg, latDeg, cells);
  return { column: cells[0] as number, row: cells[1] as number };
}

/** The place of a posting, which may lie beyond the grid; degrees. */
function placeOf(tile: Tile, column: number, row: number): readonly [lonDeg: number, latDeg: number] {
  const x = tile.x0 + column * tile.dx;
  const y = tile.y0 + row * tile.dy;
  return locatorOf(tile).projection?.inverse(x, y) ?? [x, y];
}

const inside = (grid: Grid, { column, row }: Position): boolean =>
  column >= 0 && row >= 0 && column <= grid.width - 1 && row <= grid.height - 1;

/** Inside, or in the gap of less than a cell that tiles without overlap leave between them. */
const withinOneCell = (grid: Grid, { column, row }: Position): boolean =>
  column > -1 && row > -1 && column < grid.width && row < grid.height;

/** A raster round the whole globe is its own neighbour across the last meridian. */
const goesRound = (tile: Tile): boolean =>
  locatorOf(tile).projection === null && tile.width * tile.dx > 359.5;

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

  const places: Places = {
    lonsDeg,
    latsDeg,
    columns: new Float64Array(count),
    rows: new Float64Array(count),
    asked: new Int32Array(count),
    heightsM: new Float64Array(count).fill(Number.NaN),
    sources: new Int32Array(count).fill(NOBODY),
  };
  const unanswered = await sampleWithinTiles(set, places);
  for (const [done, i] of unanswered.entries()) {
    if (done % SEAM_PLACES_A_TURN === SEAM_PLACES_A_TURN - 1) await setImmediate();
    const lonDeg = Number(lonsDeg[i]);
    const latDeg = Number(latsDeg[i]);
    for (const tile of seamTiles(set, lonDeg, latDeg)) {
      const height = await gather(set, tile, lonDeg, latDeg);
      if (height === null) continue;
      places.heightsM[i] = height;
      places.sources[i] = tile;
      break;
    }
  }
  return samplesOf(places);
}

/** No tile knows the place. */
const NOBODY = -1;

/** The answers as they are told. Lists of numbers alone are far quicker to make than lists with `null` among them. */
function samplesOf({ heightsM, sources }: Places): HeightSamples {
  const heights: (number | null)[] = new Array(heightsM.length);
  const indexes: (number | null)[] = new Array(sources.length);
  for (let i = 0; i < sources.length; i += 1) {
    const isKnown = sources[i] !== NOBODY;
    heights[i] = isKnown ? (heightsM[i] as number) : null;
    indexes[i] = isKnown ? (sources[i] as number) : null;
  }
  return { heightsM: heights, sourceIndexes: indexes };
}

/** What is asked and answered, one entry a place. */
interface Places {
  readonly lonsDeg: ArrayLike<number>;
  readonly latsDeg: ArrayLike<number>;
  /** Position in the grid of the tile that is asked now. */
  readonly columns: Float64Array;
  readonly rows: Float64Array;
  /** How many of the tiles near it a place has asked. */
  readonly asked: Int32Array;
  /** NaN where nobody knows, here only. */
  readonly heightsM: Float64Array;
  readonly sources: Int32Array;
}

/** Places that wait for one block of one tile, and at most the three next to it. */
interface Group {
  readonly tile: number;
  readonly blockX: number;
  readonly blockY: number;
  readonly places: number[];
  overRight: boolean;
  overDown: boolean;
}

/** Step one of the recipe: in rounds, each place asks its next tile. Gives the places left over. */
async function sampleWithinTiles(set: TileSet, places: Places): Promise<number[]> {
  const left: number[] = [];
  let waiting: number[] = [];
  for (let i = 0; i < places.lonsDeg.length; i += 1) waiting.push(i);
  while (waiting.length > 0) {
    const groups = await grouped(set, places, waiting, left);
    waiting = [];
    await answerGroups(set, groups, places, waiting);
  }
  return left;
}

/** Answers group after group, while the blocks of the next ones are read. */
async function answerGroups(
  set: TileSet,
  groups: readonly Group[],
  places: Places,
  waiting: number[],
): Promise<void> {
  const loads: (Loaded | Promise<Loaded>)[] = [];
  let sinceTurn = 0;
  try {
    for (const [k, group] of groups.entries()) {
      for (const ahead of groups.slice(loads.length, k + 1 + GROUPS_AHEAD)) loads.push(loadAhead(set, ahead));
      const load = loads[k] ?? NOTHING_LOADED;
      const loaded = load instanceof Promise ? await load : load;
      // What was answered is let go, or a long line would hold every block it crosses.
      loads[k] = NOTHING_LOADED;
      answer(tileAt(set, group.tile), group, loaded, places, waiting);
      sinceTurn += group.places.length;
      if (sinceTurn >= PLACES_A_TURN) {
        sinceTurn = 0;
        await setImmediate();
      }
    }
  } catch (error) {
    // Nothing goes on once the answer is given.
    await Promise.allSettled(loads);
    throw error;
  }
}

/** Puts places into groups by the block they need in the next tile they may ask; those without one are left. */
async function grouped(
  set: TileSet,
  places: Places,
  waiting: readonly number[],
  left: number[],
): Promise<Group[]> {
  const groups = new Map<string, Group>();
  const { lonsDeg, latsDeg, columns, rows, asked } = places;
  const cells = new Float64Array(2);
  // A line stays in a tile and in a block for long.
  let last: Group | null = null;
  let lastIndex = -1;
  let tile: Tile | null = null;
  let locator: Locator | null = null;
  for (let k = 0; k < waiting.length; k += 1) {
    if (k % PLACES_A_TURN === PLACES_A_TURN - 1) await setImmediate();
    const i = waiting[k] as number;
    const lonDeg = lonsDeg[i] as number;
    const latDeg = latsDeg[i] as number;
    const near = set.index.near(lonDeg, latDeg);
    let next = asked[i] as number;
    let group: Group | null = null;
    for (; next < near.length && group === null; next += 1) {
      const index = near[next] as number;
      if (tile === null || locator === null || index !== lastIndex) {
        tile = tileAt(set, index);
        locator = locatorOf(tile);
        lastIndex = index;
      }
      locator.locate(lonDeg, latDeg, cells);
      const column = cells[0] as number;
      const row = cells[1] as number;
      if (!(column >= 0 && row >= 0 && column <= tile.width - 1 && row <= tile.height - 1)) continue;
      columns[i] = column;
      rows[i] = row;
      const blockX = Math.floor(Math.floor(column) / tile.blockWidth);
      const blockY = Math.floor(Math.floor(row) / tile.blockHeight);
      group =
        last !== null && last.tile === index && last.blockX === blockX && last.blockY === blockY
          ? last
          : groupOf(groups, index, blockX, blockY);
      group.places.push(i);
      if (column > (blockX + 1) * tile.blockWidth - 1) group.overRight = true;
      if (row > (blockY + 1) * tile.blockHeight - 1) group.overDown = true;
      last = group;
    }
    asked[i] = next;
    if (group === null) left.push(i);
  }
  return [...groups.values()];
}

function groupOf(groups: Map<string, Group>, tile: number, blockX: number, blockY: number): Group {
  const key = `${tile}/${blockX}/${blockY}`;
  let group = groups.get(key);
  if (group === undefined) {
    group = { tile, blockX, blockY, places: [], overRight: false, overDown: false };
    groups.set(key, group);
  }
  return group;
}

function tileAt({ tiles }: TileSet, index: number): Tile {
  const tile = tiles[index];
  if (tile === undefined) throw new RangeError(`no tile ${index}`);
  return tile;
}

/** A group's block and those next to it that it leans on. */
interface Loaded {
  readonly here: Heights | null;
  readonly right: Heights | null;
  readonly down: Heights | null;
  readonly diagonal: Heights | null;
}

const NOTHING_LOADED: Loaded = { here: null, right: null, down: null, diagonal: null };

function loadGroup(set: TileSet, group: Group): Loaded | Promise<Loaded> {
  const at = (x: number, y: number) => set.blocks.block(group.tile, group.blockX + x, group.blockY + y);
  const here = at(0, 0);
  const right = group.overRight ? at(1, 0) : null;
  const down = group.overDown ? at(0, 1) : null;
  const diagonal = group.overRight && group.overDown ? at(1, 1) : null;
  if (
    here instanceof Promise ||
    right instanceof Promise ||
    down instanceof Promise ||
    diagonal instanceof Promise
  )
    return Promise.all([here, right, down, diagonal]).then(([h, r, d, x]) => ({
      here: h,
      right: r,
      down: d,
      diagonal: x,
    }));
  return { here, right, down, diagonal };
}

function loadAhead(set: TileSet, group: Group): Loaded | Promise<Loaded> {
  const load = loadGroup(set, group);
  // A failure is told when its turn comes; until then it is nobody's.
  if (load instanceof Promise) load.catch(() => undefined);
  return load;
}

/** Heights of a group's places, from its blocks; places without one go on `waiting` for their next tile. */
function answer(
  { blockWidth, blockHeight }: Tile,
  group: Group,
  { here, right, down, diagonal }: Loaded,
  { columns, rows, heightsM, sources }: Places,
  waiting: number[],
): void {
  if (here === null) throw new RangeError('a group without its block');
  const firstColumn = group.blockX * blockWidth;
  const firstRow = group.blockY * blockHeight;
  // Beside the last column or row the neighbour has no weight; NaN stands for it.
  const value = (x: number, y: number): number => {
    const block = x < blockWidth ? (y < blockHeight ? here : down) : y < blockHeight ? right : diagonal;
    return block?.[(y % blockHeight) * blockWidth + (x % blockWidth)] ?? Number.NaN;
  };
  for (const i of group.places) {
    const column = columns[i] as number;
    const row = rows[i] as number;
    const c = Math.floor(column);
    const r = Math.floor(row);
    const x = c - firstColumn;
    const y = r - firstRow;
    const at = y * blockWidth + x;
    const isWithin = x + 1 < blockWidth && y + 1 < blockHeight;
    const height = isWithin
      ? blend(
          here[at] as number,
          here[at + 1] as number,
          here[at + blockWidth] as number,
          here[at + blockWidth + 1] as number,
          column - c,
          row - r,
        )
      : blend(value(x, y), value(x + 1, y), value(x, y + 1), value(x + 1, y + 1), column - c, row - r);
    if (Number.isNaN(height)) waiting.push(i);
    else {
      heightsM[i] = height;
      sources[i] = group.tile;
    }
  }
}

/** Tiles whose grid may be completed from others at a place, first priority first. */
function seamTiles(set: TileSet, lonDeg: number, latDeg: number): number[] {
  const near = set.index.near(lonDeg, latDeg).filter((tile) => {
    const there = tileAt(set, tile);
    return withinOneCell(there, locate(there, lonDeg, latDeg));
  });
  const [only] = near;
  return near.length > 1 || (only !== undefined && goesRound(tileAt(set, only))) ? near : [];
}

/** Step two of the recipe: the postings of one tile's grid, each from whichever tile has it. */
async function gather(set: TileSet, index: number, lonDeg: number, latDeg: number): Promise<number | null> {
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
  const block = held instanceof Promise ? await held : held;
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
  const [lonDeg, latDeg] = placeOf(home, column, row);
  const isOutside = !inside(home, { column, row });
  for (const other of set.index.near(lonDeg, latDeg)) {
    if (other === index && !isOutside) continue;
    const there = tileAt(set, other);
    const position = locate(there, lonDeg, latDeg);
    if (!withinOneCell(there, position)) continue;
    const between = await bilinearIn(set, other, position);
    if (between !== null) return between;
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
