import { setImmediate } from 'node:timers/promises';
import { at } from '../array.ts';
import { bilinear } from './bilinear.ts';
import type { Projection } from './projection.ts';
import type { Heights } from './samples.ts';
import { heightAcrossSeam, seamTiles } from './seam-heights.ts';
import type { HeightSamples } from './surface.ts';
import type { Tile } from './tile.ts';
import { cellsAlong, locatorOf, type TileSet, tileAt, turned } from './tile-position.ts';

/** Groups whose blocks are read ahead of the one that is answered (design: keeps both threads and the disk busy). */
const GROUPS_AHEAD = 5;
/** Places done before others get a turn (design: under 1 ms, 3 ms before it is compiled). */
const PLACES_A_TURN = 4096;
/** As that, for places on a seam or in a void, each a search of its own. */
const SEAM_PLACES_A_TURN = 512;

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
    postings: new Int32Array(count),
    columnWeights: new Float64Array(count),
    rowWeights: new Float64Array(count),
    asked: new Int32Array(count),
    heightsM: new Float64Array(count),
    sources: new Int32Array(count).fill(NOBODY),
  };
  const unanswered = await sampleWithinTiles(set, places);
  for (const [done, i] of unanswered.entries()) {
    if (done % SEAM_PLACES_A_TURN === SEAM_PLACES_A_TURN - 1) await setImmediate();
    const lonDeg = Number(lonsDeg[i]);
    const latDeg = Number(latsDeg[i]);
    for (const tile of seamTiles(set, lonDeg, latDeg)) {
      const height = await heightAcrossSeam(set, tile, lonDeg, latDeg);
      if (Number.isNaN(height)) continue;
      places.heightsM[i] = height;
      places.sources[i] = tile;
      break;
    }
  }
  return samplesOf(places, count);
}

/** No tile knows the place. */
const NOBODY = -1;

/** The answers as callers take them. Lists of numbers alone are far quicker to make than lists with `null` among them. */
function samplesOf({ heightsM, sources }: Places, count: number): HeightSamples {
  const heights: (number | null)[] = new Array(count);
  const indexes: (number | null)[] = new Array(count);
  for (let i = 0; i < count; i += 1) heights[i] = heightsM[i] as number;
  for (let i = 0; i < count; i += 1) indexes[i] = sources[i] as number;
  for (let i = 0; i < count; i += 1) {
    if (sources[i] !== NOBODY) continue;
    heights[i] = null;
    indexes[i] = null;
  }
  return { heightsM: heights, sourceIndexes: indexes };
}

/** What is asked and answered, and what is worked with; one entry a place. */
interface Places {
  readonly lonsDeg: ArrayLike<number>;
  readonly latsDeg: ArrayLike<number>;
  /**
   * In the block that is asked now, the posting before and above the place. Where the place leans on a block beside it,
   * `-1 -` that: those few are known by the sign.
   */
  readonly postings: Int32Array;
  /** Weights of the next column and of the next row. */
  readonly columnWeights: Float64Array;
  readonly rowWeights: Float64Array;
  /** How many of the tiles near it a place has asked. */
  readonly asked: Int32Array;
  /** Says nothing where `sources` names nobody. */
  readonly heightsM: Float64Array;
  readonly sources: Int32Array;
}

/** Places that wait for one block of one tile, and at most the three next to it. */
interface Group {
  readonly tile: number;
  readonly blockX: number;
  readonly blockY: number;
  /** Stretches of the waiting list: where each starts, and where it ends. */
  readonly runs: number[];
  overRight: boolean;
  overDown: boolean;
}

/** The places that still wait, and where those go that are asked about. */
interface Round {
  readonly waiting: Int32Array;
  readonly groups: Map<string, Group>;
  /** No tile is left to ask. */
  readonly leftOver: number[];
  /** The tile that was asked does not know. */
  readonly unanswered: number[];
}

/** Step one of the recipe: in rounds, each place asks its next tile. Gives the places left over. */
async function sampleWithinTiles(set: TileSet, places: Places): Promise<number[]> {
  const leftOver: number[] = [];
  let waiting = new Int32Array(places.lonsDeg.length);
  for (let i = 0; i < waiting.length; i += 1) waiting[i] = i;
  while (waiting.length > 0) {
    const round: Round = { waiting, groups: new Map(), leftOver, unanswered: [] };
    for (let from = 0; from < waiting.length; from += PLACES_A_TURN) {
      if (from > 0) await setImmediate();
      groupSome(set, places, round, from);
    }
    await answerGroups(set, places, round);
    waiting = Int32Array.from(round.unanswered);
  }
  return leftOver;
}

/** Answers group after group, while the blocks of the next ones are read. */
async function answerGroups(set: TileSet, places: Places, round: Round): Promise<void> {
  const groups = [...round.groups.values()];
  const loads: (Loaded | Promise<Loaded>)[] = [];
  let sinceTurn = 0;
  try {
    for (const [k, group] of groups.entries()) {
      for (const ahead of groups.slice(loads.length, k + 1 + GROUPS_AHEAD)) loads.push(loadAhead(set, ahead));
      const load = at(loads, k);
      const loaded = load instanceof Promise ? await load : load;
      // What was answered is let go, or a long line would hold every block it crosses.
      loads[k] = [];
      sinceTurn += answer(tileAt(set, group.tile), group, loaded, places, round);
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

/**
 * Puts some of the places that wait into groups by the block they need in the next tile they may ask. A line stays in a
 * tile and in a block for long, so what was asked last is tried first.
 */
function groupSome(set: TileSet, places: Places, { waiting, groups, leftOver }: Round, from: number): void {
  const to = Math.min(from + PLACES_A_TURN, waiting.length);
  const { lonsDeg, latsDeg, postings, columnWeights, rowWeights, asked } = places;
  // Of the tile that was asked last, held here because looking them up for each place costs time (measured).
  let index = -1;
  let [x0, y0, dx, dy, middleX] = [0.5, 0.5, 0.5, 0.5, 0.5];
  let [lastColumn, lastRow, blockWidth, blockHeight] = [0, 0, 0, 0];
  let projection: Projection | null = null;
  let group: Group | null = null;
  let firstColumn = 0;
  let firstRow = 0;
  let start = from;
  for (let k = from; k < to; k += 1) {
    const i = waiting[k] as number;
    const lonDeg = lonsDeg[i] as number;
    const latDeg = latsDeg[i] as number;
    const near = set.index.near(lonDeg, latDeg);
    let next = asked[i] as number;
    let isFound = false;
    for (; next < near.length && !isFound; next += 1) {
      if (near[next] !== index) {
        if (group !== null) group.runs.push(start, k);
        group = null;
        index = near[next] as number;
        const tile = tileAt(set, index);
        ({ x0, y0, dx, dy, blockWidth, blockHeight } = tile);
        ({ projection, middleX } = locatorOf(tile));
        lastColumn = tile.width - 1;
        lastRow = tile.height - 1;
      }
      let x = lonDeg;
      let y = latDeg;
      if (projection === null) x = turned(lonDeg, middleX);
      else [x, y] = projection.forward(lonDeg, latDeg);
      const column = cellsAlong(x, x0, dx);
      const row = cellsAlong(y, y0, dy);
      isFound = column >= 0 && row >= 0 && column <= lastColumn && row <= lastRow;
      if (!isFound) continue;
      const c = Math.floor(column);
      const r = Math.floor(row);
      const isSame =
        c >= firstColumn && r >= firstRow && c < firstColumn + blockWidth && r < firstRow + blockHeight;
      if (group === null || !isSame) {
        if (group !== null) group.runs.push(start, k);
        const blockX = Math.floor(c / blockWidth);
        const blockY = Math.floor(r / blockHeight);
        group = groupOf(groups, index, blockX, blockY);
        start = k;
        firstColumn = blockX * blockWidth;
        firstRow = blockY * blockHeight;
      }
      const fromLeft = c - firstColumn;
      const fromTop = r - firstRow;
      const isWithin = fromLeft + 1 < blockWidth && fromTop + 1 < blockHeight;
      const posting = fromTop * blockWidth + fromLeft;
      postings[i] = isWithin ? posting : -1 - posting;
      columnWeights[i] = column - c;
      rowWeights[i] = row - r;
      if (!isWithin) {
        if (column > firstColumn + blockWidth - 1) group.overRight = true;
        if (row > firstRow + blockHeight - 1) group.overDown = true;
      }
    }
    asked[i] = next;
    if (!isFound) {
      if (group !== null) group.runs.push(start, k);
      group = null;
      leftOver.push(i);
    }
  }
  if (group !== null) group.runs.push(start, to);
}

function groupOf(groups: Map<string, Group>, tile: number, blockX: number, blockY: number): Group {
  const key = `${tile}/${blockX}/${blockY}`;
  let group = groups.get(key);
  if (group === undefined) {
    group = { tile, blockX, blockY, runs: [], overRight: false, overDown: false };
    groups.set(key, group);
  }
  return group;
}

/** A group's block and those to the right of it, below and both, where it leans on them. */
type Loaded = readonly (Heights | null)[];

function loadGroup(
  set: TileSet,
  { tile, blockX, blockY, overRight, overDown }: Group,
): Loaded | Promise<Loaded> {
  const block = (x: 0 | 1, y: 0 | 1) =>
    (x === 1 && !overRight) || (y === 1 && !overDown) ? null : set.blocks.block(tile, blockX + x, blockY + y);
  const blocks = [block(0, 0), block(1, 0), block(0, 1), block(1, 1)];
  const isReady = (one: Heights | Promise<Heights> | null): one is Heights | null =>
    !(one instanceof Promise);
  return blocks.every(isReady) ? blocks : Promise.all(blocks);
}

function loadAhead(set: TileSet, group: Group): Loaded | Promise<Loaded> {
  const load = loadGroup(set, group);
  // A failure is told when its turn comes; until then it is nobody's.
  if (load instanceof Promise) load.catch(() => undefined);
  return load;
}

/**
 * Heights of a group's places, from its blocks; places that they do not give are `unanswered`.
 * @returns how many places there were
 */
function answer(
  tile: Tile,
  group: Group,
  loaded: Loaded,
  { postings, columnWeights, rowWeights, heightsM, sources }: Places,
  { waiting, unanswered }: Round,
): number {
  const [here = null] = loaded;
  if (here === null) throw new RangeError('a group without its block');
  const { blockWidth } = tile;
  const { runs } = group;
  let count = 0;
  for (let run = 0; run < runs.length; run += 2) {
    const start = runs[run] as number;
    const end = runs[run + 1] as number;
    count += end - start;
    for (let k = start; k < end; k += 1) {
      const i = waiting[k] as number;
      const posting = postings[i] as number;
      const columnWeight = columnWeights[i] as number;
      const rowWeight = rowWeights[i] as number;
      const height =
        posting >= 0
          ? bilinear(
              here[posting] as number,
              here[posting + 1] as number,
              here[posting + blockWidth] as number,
              here[posting + blockWidth + 1] as number,
              columnWeight,
              rowWeight,
            )
          : blendAcross(tile, loaded, -1 - posting, columnWeight, rowWeight);
      if (Number.isNaN(height)) unanswered.push(i);
      else {
        heightsM[i] = height;
        sources[i] = group.tile;
      }
    }
  }
  return count;
}

/** The height at a place whose postings lie in several blocks. */
function blendAcross(
  { blockWidth, blockHeight }: Tile,
  [here, right, down, diagonal]: Loaded,
  posting: number,
  columnWeight: number,
  rowWeight: number,
): number {
  // Beside the last column or row the neighbour has no weight; NaN stands for it.
  const value = (x: number, y: number): number => {
    const block = x < blockWidth ? (y < blockHeight ? here : down) : y < blockHeight ? right : diagonal;
    return block?.[(y % blockHeight) * blockWidth + (x % blockWidth)] ?? Number.NaN;
  };
  const x = posting % blockWidth;
  const y = Math.floor(posting / blockWidth);
  return bilinear(
    value(x, y),
    value(x + 1, y),
    value(x, y + 1),
    value(x + 1, y + 1),
    columnWeight,
    rowWeight,
  );
}
