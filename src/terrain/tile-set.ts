import { basename } from 'node:path';
import { EngineError, type Note } from '../errors.ts';
import { BlockCache, DEFAULT_CACHE_BYTES } from './block-cache.ts';
import { type FoundFile, findTiles } from './find-tiles.ts';
import { openGeotiffTile } from './geotiff-tile.ts';
import { openHgtTile } from './hgt-tile.ts';
import { type BlockReader, sampleHeights } from './sample.ts';
import type { Surface, TileInfo } from './surface.ts';
import { blockCounts, type Tile } from './tile.ts';
import { tileIndex } from './tile-index.ts';

export interface SurfaceOptions {
  /** Room for decoded blocks, bytes; 256 MiB when not given. */
  readonly cacheBytes?: number;
}

type Refused = Surface['refused'][number];

/** Files opened at the same time (design: enough to hide the disk, far from the limit on open files). */
const OPEN_AT_ONCE = 8;
/** Refused files named in the message when nothing is left (design). */
const MOST_NAMED = 10;

/**
 * Opens elevation files and folders of them as one surface; each file's own header says where it lies.
 * A file that cannot be used is listed in `refused` with its reason. Where tiles overlap, the finest posting
 * answers first, then a tile that states its unit, then the first path.
 * @throws EngineError `file-not-found` for a path that does not exist, `dem-none` when no file can be used.
 */
export async function openSurface(paths: readonly string[], options: SurfaceOptions = {}): Promise<Surface> {
  const found = await findTiles(paths);
  const opened: Tile[] = [];
  const refused: Refused[] = [];
  for (let start = 0; start < found.length; start += OPEN_AT_ONCE) {
    const some = await Promise.all(found.slice(start, start + OPEN_AT_ONCE).map(openOrRefuse));
    for (const one of some) {
      if ('code' in one) refused.push(one);
      else opened.push(one);
    }
  }
  if (opened.length === 0) throw nothingUsable(paths, refused);
  return surfaceOf(byPriority(opened), refused, options.cacheBytes ?? DEFAULT_CACHE_BYTES);
}

async function openOrRefuse({ path, kind }: FoundFile): Promise<Tile | Refused> {
  try {
    if (kind === 'hgt') return await openHgtTile(path);
    if (kind === 'geotiff') return await openGeotiffTile(path);
    throw new EngineError(
      'dem-unreadable',
      kind === 'packed'
        ? 'it is packed: unpack it first'
        : 'it is no elevation file by its name: .tif, .tiff and .hgt are read',
    );
  } catch (error) {
    if (error instanceof EngineError) return { path, code: error.code, reason: error.message };
    // The disk, or a header that made the library stumble: the file is at fault, not the caller.
    const reason = error instanceof Error ? error.message.split('\n', 1)[0] : String(error);
    return { path, code: 'dem-unreadable', reason: `it cannot be read (${reason}): fetch it again` };
  }
}

function nothingUsable(paths: readonly string[], refused: readonly Refused[]): EngineError {
  const where = paths.join(', ');
  if (refused.length === 0)
    return new EngineError(
      'dem-none',
      `no elevation file (.tif, .tiff, .hgt) in ${where === '' ? 'no path at all' : where}: give the folder that holds the tiles`,
    );
  const reasons = refused.slice(0, MOST_NAMED).map((r) => `${basename(r.path)}: ${r.reason} [${r.code}]`);
  const more = refused.length > MOST_NAMED ? `; and ${refused.length - MOST_NAMED} more` : '';
  return new EngineError('dem-none', `no usable elevation file in ${where}. ${reasons.join('; ')}${more}`, {
    found: refused.length,
  });
}

/**
 * Finest first; of the same posting, tiles that state their unit before those where metres were assumed; then by path.
 * Steps are compared to five digits: headers round the same grid differently.
 */
function byPriority(tiles: readonly Tile[]): Tile[] {
  const step = ({ info }: Tile): number => {
    const middleRad = ((info.southDeg + info.northDeg) / 2) * (Math.PI / 180);
    return Number(Math.max(info.stepLatDeg, info.stepLonDeg * Math.cos(middleRad)).toPrecision(5));
  };
  return [...tiles].sort(
    (a, b) =>
      step(a) - step(b) ||
      Number(a.info.unitAssumed) - Number(b.info.unitAssumed) ||
      (a.info.path < b.info.path ? -1 : 1),
  );
}

function surfaceOf(tiles: readonly Tile[], refused: readonly Refused[], cacheBytes: number): Surface {
  const cache = new BlockCache(cacheBytes);
  const notes: Note[][] = tiles.map((tile) => [...tile.info.notes]);
  const sources: TileInfo[] = tiles.map((tile, i) => ({ ...tile.info, notes: notes[i] ?? [] }));
  const isBad = new Set<number>();
  let isOpen = true;

  function unreadable(tile: Tile, index: number, error: unknown): Float64Array {
    if (!isBad.has(index)) {
      isBad.add(index);
      const reason = error instanceof Error ? error.message.split('\n', 1)[0] : String(error);
      notes[index]?.push({
        code: 'dem-block-unreadable',
        text: `Part of the file cannot be read (${reason}): its heights count as void. Fetch it again.`,
      });
    }
    return new Float64Array(tile.blockWidth * tile.blockHeight).fill(Number.NaN);
  }

  const blocks: BlockReader = {
    block(index, blockX, blockY) {
      const key = `${index}/${blockX}/${blockY}`;
      const ready = cache.ready(key);
      if (ready !== null) return ready;
      const tile = tiles[index];
      if (tile === undefined) throw new RangeError(`no tile ${index}`);
      return cache
        .get(key, () => tile.readBlock(blockX, blockY))
        .catch((error: unknown) => unreadable(tile, index, error));
    },
  };
  const set = { tiles, index: tileIndex(tiles), blocks };
  const check = () => {
    if (!isOpen) throw new RangeError('the surface is closed');
  };

  return {
    sources,
    refused,
    async heightsAt(lonsDeg, latsDeg) {
      check();
      return sampleHeights(set, lonsDeg, latsDeg);
    },
    async voidShare(sourceIndex) {
      check();
      const tile = tiles[sourceIndex];
      if (tile === undefined) throw new RangeError(`no source ${sourceIndex}`);
      return countVoids(tile, (error) => unreadable(tile, sourceIndex, error));
    },
    async close() {
      isOpen = false;
      cache.clear();
    },
  };
}

/** Reads past the cache: a report on a folder should not push out the blocks that routes use. */
async function countVoids(tile: Tile, unreadable: (error: unknown) => Float64Array): Promise<number> {
  const { across, down } = blockCounts(tile);
  let known = 0;
  for (let blockY = 0; blockY < down; blockY += 1) {
    for (let blockX = 0; blockX < across; blockX += 1) {
      const block = await tile.readBlock(blockX, blockY).catch(unreadable);
      for (const height of block) if (!Number.isNaN(height)) known += 1;
    }
  }
  return 1 - known / (tile.width * tile.height);
}
