import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import Type, { type Static } from 'typebox';
import { Compile } from 'typebox/compile';
import type { FoundTile } from './find-tiles.ts';
import type { TileInfo } from './surface.ts';
import type { Tile } from './tile.ts';

/*
 * What headers said, kept between runs, so that opening a folder of thousands of tiles reads none of them again. An
 * entry holds for one path, size, time of change and statement about the file. It saves time and is nothing else: a
 * file that is missing, broken or of another format is as good as none.
 */

/** Raise this whenever a reader says something else of the same file. */
const FORMAT = 2;
/** Tiles of other folders are kept up to this many (design). */
const MOST_TILES = 50_000;

const numbers = <K extends string>(...names: readonly K[]) =>
  Type.Object(Object.fromEntries(names.map((name) => [name, Type.Number()])) as Record<K, Type.TNumber>);
const whole = Type.Integer({ minimum: 1 });

const entrySchema = Type.Object({
  key: Type.String(),
  /** Tiles that its unit has been checked against. */
  agrees: Type.Array(Type.String()),
  grid: Type.Intersect([
    numbers('x0', 'y0', 'dx', 'dy'),
    Type.Object({ width: whole, height: whole, blockWidth: whole, blockHeight: whole }),
  ]),
  info: Type.Unsafe<TileInfo>(
    Type.Intersect([
      numbers('westDeg', 'southDeg', 'eastDeg', 'northDeg', 'stepLonDeg', 'stepLatDeg', 'postingM'),
      Type.Object({
        path: Type.String(),
        version: Type.String(),
        unitAssumed: Type.Boolean(),
        attribution: Type.Array(Type.String()),
        notes: Type.Array(Type.Object({ code: Type.String(), values: Type.Object({}) })),
      }),
    ]),
  ),
});
const fileSchema = Type.Object({
  format: Type.Literal(FORMAT),
  tiles: Type.Record(Type.String(), entrySchema),
});
const validator = Compile(fileSchema);

type Entry = Static<typeof entrySchema>;

export interface IndexCache {
  /** The tile as its header was read before, opened with `open` once a block is asked for; `null`: not known. */
  known(found: FoundTile, open: () => Promise<Tile>): Tile | null;
  /** Remembers what a header said; what does not go into the file is left out. */
  remember(found: FoundTile, tile: Tile): void;
  /** Whether a tile has been checked against another, as both are now. */
  agrees(found: FoundTile, other: TileInfo): boolean;
  noteAgreement(found: FoundTile, other: TileInfo): void;
  /** Writes what is new, whole or not at all; a disk that refuses is no fault. */
  save(): Promise<void>;
}

const keyOf = ({ file, kind, stated, path }: FoundTile): string =>
  JSON.stringify([file?.size, file?.mtimeMs, kind, path, stated]);

const agreementOf = ({ path, version, unit }: TileInfo): string => `${version} ${unit} ${resolve(path)}`;

async function readEntries(path: string): Promise<Map<string, Entry>> {
  try {
    const value: unknown = JSON.parse(await readFile(path, 'utf8'));
    if (validator.Check(value)) return new Map(Object.entries(value.tiles));
  } catch {
    // Missing or broken: made anew.
  }
  return new Map();
}

/** @param path `null`: nothing is kept. */
export async function openIndexCache(path: string | null): Promise<IndexCache> {
  const entries = path === null ? new Map<string, Entry>() : await readEntries(path);
  const used = new Set<string>();
  let isNew = false;

  const entryOf = (found: FoundTile): Entry | null => {
    if (found.file === null) return null;
    const entry = entries.get(resolve(found.path));
    return entry?.key === keyOf(found) ? entry : null;
  };

  return {
    known(found, open) {
      const entry = entryOf(found);
      if (entry === null) return null;
      used.add(resolve(found.path));
      return openedLater(entry, open);
    },
    remember(found, { readBlock: _, info, ...grid }) {
      if (path === null || found.file === null) return;
      const whole = resolve(found.path);
      entries.set(whole, { key: keyOf(found), agrees: [], grid, info });
      used.add(whole);
      isNew = true;
    },
    agrees: (found, other) => entryOf(found)?.agrees.includes(agreementOf(other)) ?? false,
    noteAgreement(found, other) {
      const entry = entryOf(found);
      if (entry === null) return;
      entries.set(resolve(found.path), { ...entry, agrees: [...entry.agrees, agreementOf(other)] });
      isNew = true;
    },
    async save() {
      if (path === null || !isNew) return;
      isNew = false;
      const kept = [...entries].filter(([file], i) => used.has(file) || i < MOST_TILES - used.size);
      const partial = `${path}.${process.pid}.part`;
      try {
        await mkdir(dirname(path), { recursive: true });
        await writeFile(partial, JSON.stringify({ format: FORMAT, tiles: Object.fromEntries(kept) }));
        await rename(partial, path);
      } catch {
        // Full, read-only or forbidden: the next run reads the headers again.
        await rm(partial, { force: true }).catch(() => undefined);
      }
    },
  };
}

function openedLater({ grid, info }: Entry, open: () => Promise<Tile>): Tile {
  let opening: Promise<Tile> | null = null;
  return {
    ...grid,
    info,
    async readBlock(blockX, blockY) {
      opening ??= open().catch((error: unknown) => {
        opening = null;
        throw error;
      });
      const tile = await opening;
      if (tile.info.version !== info.version) throw new Error('the file changed since it was opened');
      return tile.readBlock(blockX, blockY);
    },
  };
}
