import { basename } from 'node:path';
import { at } from '../array.ts';
import { EngineError, firstLine } from '../errors.ts';
import { message } from '../message.ts';
import type { Note } from '../notes.ts';
import { MS_PER_DAY } from '../units.ts';
import { BlockCache, DEFAULT_CACHE_BYTES } from './block-cache.ts';
import { type FoundTile, findTiles } from './find-tiles.ts';
import { refuse } from './geotiff-header.ts';
import { openGeotiffTile } from './geotiff-tile.ts';
import { openHgtTile } from './hgt-tile.ts';
import { openHttpRanges, type RemoteAccess } from './http-ranges.ts';
import { type IndexCache, openIndexCache } from './index-cache.ts';
import { openPackedHgt, type UnpackedTiles, unpackedTiles } from './packed-hgt.ts';
import { sampleHeights } from './sample.ts';
import type { Heights } from './samples.ts';
import type { Refused, Surface, TileInfo } from './surface.ts';
import { blockCounts, type Tile } from './tile.ts';
import { isAddress } from './tile-address.ts';
import { tileIndex } from './tile-index.ts';
import type { BlockReader, TileSet } from './tile-position.ts';
import { feetReason, unitFinding, unitWitnesses } from './unit-check.ts';

export interface SurfaceOptions {
  /** Room for decoded blocks, bytes; 128 MiB when not given. */
  readonly cacheBytes?: number;
  /** Where headers are remembered between runs; not given: nowhere. */
  readonly indexFile?: string | null;
  /** How tiles on the net are fetched; not given: none is. */
  readonly remote?: RemoteAccess;
  /** Told of each tile whose header is read, not remembered. */
  readonly onHeader?: (path: string) => void;
}

/** Files opened at the same time (design: enough to hide the disk, far from the limit on open files). */
const OPEN_AT_ONCE = 8;
/** Refused files named in the message when nothing is left (design). */
const MOST_NAMED = 10;
const NO_REMOTE: RemoteAccess = { hosts: [], random: () => 0.5 };

/** A tile with what it was opened from. */
interface OpenTile {
  readonly tile: Tile;
  readonly found: FoundTile;
}

/**
 * Opens elevation files, folders of them, catalogues and addresses as one surface; each file's own header says where it
 * lies. A file that cannot be used is listed in `refused` with its reason. Where tiles overlap, the finest posting
 * answers first, then a tile that states its unit, then the newest, then the first path.
 * @throws EngineError `file-not-found` for a path that does not exist, `bad-settings` for what stands beside tiles,
 * `dem-none` when no file can be used.
 */
export async function openSurface(paths: readonly string[], options: SurfaceOptions = {}): Promise<Surface> {
  const { tiles: found, refused: badCatalogues } = await findTiles(paths);
  const index = await openIndexCache(options.indexFile ?? null);
  const unpacked = unpackedTiles();
  const openNow = (one: FoundTile): Promise<Tile> => openTile(one, options, unpacked);
  const openOrKnown = async (one: FoundTile): Promise<Tile> => {
    const known = index.known(one, () => openNow(one));
    if (known !== null) return known;
    options.onHeader?.(one.path);
    const tile = await openNow(one);
    index.remember(one, tile);
    return tile;
  };

  const opened: (OpenTile | Refused)[] = [];
  for (let start = 0; start < found.length; start += OPEN_AT_ONCE) {
    const some = found.slice(start, start + OPEN_AT_ONCE);
    opened.push(...(await Promise.all(some.map((one) => orRefused(one, openOrKnown)))));
  }
  const byRank = byPriority(opened.filter(isOpen));
  const all = byRank.map(({ tile }) => tile);
  const near = tileIndex(all);
  const checked: (OpenTile | Refused)[] = [];
  for (const [i, one] of byRank.entries()) {
    const witnesses = one.tile.info.unitAssumed ? unitWitnesses(all, i, near) : [];
    checked.push(await unitChecked(one, witnesses, index));
  }
  await index.save();
  const refused = [...badCatalogues, ...[...opened, ...checked].filter(isRefused)];
  refused.sort((a, b) => (a.path < b.path ? -1 : 1));
  const tiles = checked.filter(isOpen);
  if (tiles.length === 0) throw nothingUsable(paths, refused);
  return surfaceOf(tiles, refused, options.cacheBytes ?? DEFAULT_CACHE_BYTES, openNow);
}

async function openTile(
  { path, kind, stated }: FoundTile,
  { remote }: SurfaceOptions,
  unpacked: UnpackedTiles,
): Promise<Tile> {
  if (isAddress(path)) {
    if (kind !== 'geotiff') throw refuse('over the net only GeoTIFF (.tif) is read: fetch a copy');
    return openGeotiffTile(path, stated, await openHttpRanges(path, remote ?? NO_REMOTE));
  }
  switch (kind) {
    case 'geotiff':
      return openGeotiffTile(path, stated);
    case 'hgt':
      return openHgtTile(path, null, stated);
    case 'hgtGz':
    case 'hgtZip':
      return openHgtTile(path, await openPackedHgt(path, kind === 'hgtGz' ? 'gz' : 'zip', unpacked), stated);
    default:
      throw refuse(
        kind === 'packed'
          ? 'it is packed in a way that is not read: unpack it first'
          : 'it is no elevation file by its name: .tif, .tiff, .hgt, .hgt.gz and .hgt.zip are read',
      );
  }
}

const isOpen = (one: OpenTile | Refused): one is OpenTile => 'tile' in one;
const isRefused = (one: OpenTile | Refused): one is Refused => !isOpen(one);

async function orRefused(
  found: FoundTile,
  open: (found: FoundTile) => Promise<Tile>,
): Promise<OpenTile | Refused> {
  const { path } = found;
  try {
    return { found, tile: await open(found) };
  } catch (error) {
    if (error instanceof EngineError) return { path, code: error.code, reason: error.reason };
    // The disk, or a header that made the library stumble: the file is at fault, not the caller.
    const reason = message`it cannot be read (${firstLine(error)}): fetch it again`;
    return { path, code: 'dem-unreadable', reason };
  }
}

function nothingUsable(paths: readonly string[], refused: readonly Refused[]): EngineError {
  const where = paths.join(', ');
  if (refused.length === 0)
    return new EngineError(
      'dem-none',
      message`no elevation file (.tif, .tiff, .hgt) in ${where === '' ? 'no path at all' : where}: give the folder that holds the tiles`,
    );
  const reasons = refused
    .slice(0, MOST_NAMED)
    .map(({ path, reason, code }) => message`${basename(path)}: ${reason} [${code}]`);
  const more = refused.length > MOST_NAMED ? `; and ${refused.length - MOST_NAMED} more` : '';
  return new EngineError('dem-none', message`no usable elevation file in ${where}. ${{ reasons }}${more}`, {
    found: refused.length,
  });
}

/**
 * Finest first; of the same posting, tiles that state their unit before those where metres were assumed; then the
 * newest by day, by what is stated, else by the file's time; then by path. Steps are compared to five digits: headers
 * round the same grid differently.
 */
function byPriority(tiles: readonly OpenTile[]): OpenTile[] {
  const step = ({ tile: { info } }: OpenTile): number => {
    const middleRad = ((info.southDeg + info.northDeg) / 2) * (Math.PI / 180);
    return Number(Math.max(info.stepLatDeg, info.stepLonDeg * Math.cos(middleRad)).toPrecision(5));
  };
  const day = ({ found: { stated, file } }: OpenTile): number =>
    Math.floor((stated.dateMs ?? file?.mtimeMs ?? 0) / MS_PER_DAY);
  return [...tiles].sort(
    (a, b) =>
      step(a) - step(b) ||
      Number(a.tile.info.unitAssumed) - Number(b.tile.info.unitAssumed) ||
      day(b) - day(a) ||
      (a.tile.info.path < b.tile.info.path ? -1 : 1),
  );
}

/**
 * A tile that states no unit against those that it overlaps and that can say something of it, which are all asked: 3.28
 * times as high as one of them is enough to refuse it; else what disagrees is noted.
 */
async function unitChecked(
  one: OpenTile,
  witnesses: readonly Tile[],
  index: IndexCache,
): Promise<OpenTile | Refused> {
  let disagrees: Note | null = null;
  for (const witness of witnesses) {
    if (index.agrees(one.found, witness.info)) continue;
    const finding = await unitFinding(one.tile, witness);
    if (finding === 'feet') return { path: one.found.path, code: 'dem-unit', reason: feetReason(witness) };
    if (finding === 'agrees') index.noteAgreement(one.found, witness.info);
    else {
      const values = { differsM: finding.differsM, otherTile: basename(witness.info.path) };
      disagrees ??= { code: 'dem-disagrees', values };
    }
  }
  if (disagrees === null) return one;
  const notes = [...one.tile.info.notes, disagrees];
  return { ...one, tile: { ...one.tile, info: { ...one.tile.info, notes } } };
}

/** A fault of a server that may pass, unlike a damaged file: told to whoever asked, so that nothing is measured on holes. */
const isPassing = (error: unknown): boolean =>
  error instanceof EngineError && (error.code === 'dem-unreachable' || error.code === 'dem-changed');

function surfaceOf(
  opened: readonly OpenTile[],
  refused: readonly Refused[],
  cacheBytes: number,
  reopen: (found: FoundTile) => Promise<Tile>,
): Surface {
  const cache = new BlockCache(cacheBytes);
  const tiles = opened.map(({ tile }) => tile);
  const notes: Note[][] = tiles.map((tile) => [...tile.info.notes]);
  const sources: TileInfo[] = tiles.map((tile, i) => ({ ...tile.info, notes: at(notes, i) }));
  const noted = new Set<number>();
  const badBlocks = new Map<number, Set<string>>();
  /** Tiles whose file changed on its server. */
  const stale = new Set<number>();
  let reopening: Promise<void> | null = null;
  let isOpen = true;

  function unreadable(tile: Tile, index: number, key: string, error: unknown): Heights {
    if (error instanceof EngineError && error.code === 'dem-changed') stale.add(index);
    if (isPassing(error)) throw error;
    badBlocks.set(index, (badBlocks.get(index) ?? new Set()).add(key));
    if (!noted.has(index)) {
      noted.add(index);
      at(notes, index).push({ code: 'dem-block-unreadable', values: { reason: firstLine(error) } });
    }
    return new Float64Array(tile.blockWidth * tile.blockHeight).fill(Number.NaN);
  }

  async function readBlock(tile: Tile, index: number, blockX: number, blockY: number): Promise<Heights> {
    const block = await tile.readBlock(blockX, blockY);
    const bad = badBlocks.get(index);
    bad?.delete(`${blockX}/${blockY}`);
    if (bad?.size === 0) badBlocks.delete(index);
    return block;
  }

  /** The tiles as they are now; one that is opened again makes a new set, so that no answer mixes two files. */
  function setOf(now: readonly Tile[]): TileSet {
    const blocks: BlockReader = {
      block(index, blockX, blockY) {
        const tile = at(now, index);
        const place = `${blockX}/${blockY}`;
        const key = `${index}/${tile.info.version}/${place}`;
        const ready = cache.ready(key);
        if (ready !== null) return ready;
        return cache
          .get(key, () => readBlock(tile, index, blockX, blockY))
          .catch((error: unknown) => unreadable(tile, index, place, error));
      },
    };
    return { tiles: now, index: tileIndex(now), blocks };
  }
  let set = setOf([...tiles]);

  async function reopenStale(): Promise<void> {
    for (const index of [...stale]) {
      const tile = await reopen(at(opened, index).found);
      tiles[index] = tile;
      sources[index] = { ...tile.info, notes: at(notes, index) };
      stale.delete(index);
      set = setOf([...tiles]);
    }
  }

  /** The set to read from, with tiles that changed on their servers opened again. */
  async function current(): Promise<TileSet> {
    if (!isOpen) throw new RangeError('the surface is closed');
    if (stale.size > 0) {
      reopening ??= reopenStale().finally(() => {
        reopening = null;
      });
      await reopening;
    }
    return set;
  }

  return {
    sources,
    refused,
    get damaged() {
      return badBlocks.size;
    },
    async heightsAt(lonsDeg, latsDeg) {
      return sampleHeights(await current(), lonsDeg, latsDeg);
    },
    async voidShare(sourceIndex) {
      const tile = (await current()).tiles[sourceIndex];
      if (tile === undefined) throw new RangeError(`no source ${sourceIndex}`);
      return countVoids(tile, (place, error) => unreadable(tile, sourceIndex, place, error));
    },
    async close() {
      isOpen = false;
      cache.clear();
    },
  };
}

/** Reads past the cache: a report on a folder should not push out the blocks that routes use. */
async function countVoids(
  tile: Tile,
  unreadable: (place: string, error: unknown) => Heights,
): Promise<number> {
  const { across, down } = blockCounts(tile);
  let known = 0;
  for (let blockY = 0; blockY < down; blockY += 1) {
    for (let blockX = 0; blockX < across; blockX += 1) {
      const block = await tile
        .readBlock(blockX, blockY)
        .catch((error: unknown) => unreadable(`${blockX}/${blockY}`, error));
      for (const height of block) if (!Number.isNaN(height)) known += 1;
    }
  }
  return 1 - known / (tile.width * tile.height);
}
