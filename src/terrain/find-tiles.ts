import { readdir, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { EngineError } from '../errors.ts';

export type TileKind = 'geotiff' | 'hgt' | 'packed' | 'unknown';

export interface FoundFile {
  readonly path: string;
  readonly kind: TileKind;
}

/** A folder and what lies up to this many folders below it (design: `state/county/tile.tif`). */
const DEEPEST = 3;

/** What a file is by its name: a downloaded archive is told apart so that it can be named. */
export function tileKind(name: string): TileKind {
  if (/\.tiff?$/i.test(name)) return 'geotiff';
  if (/\.hgt$/i.test(name)) return 'hgt';
  return /\.(hgt|tiff?)\.(gz|zip|bz2|xz)$/i.test(name) ? 'packed' : 'unknown';
}

/**
 * The elevation files among files and folders, each once, ordered by path. In folders, hidden files and
 * files of other kinds are passed over; a file named outright is always in the answer.
 * @throws EngineError `file-not-found`, or `file-unreadable` where the system refuses.
 */
export async function findTiles(paths: readonly string[]): Promise<FoundFile[]> {
  const found = new Map<string, FoundFile>();
  const add = (path: string, kind: TileKind) => {
    const whole = resolve(path);
    if (!found.has(whole)) found.set(whole, { path, kind });
  };
  for (const path of paths) {
    const entry = await look(path);
    if (entry.isDirectory()) await walk(path, 0, add);
    else add(path, tileKind(path));
  }
  return [...found.values()].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
}

async function look(path: string) {
  try {
    return await stat(path);
  } catch (error) {
    throw refusal(path, error);
  }
}

function refusal(path: string, error: unknown): EngineError {
  const code = (error as { code?: unknown }).code;
  return code === 'ENOENT' || code === 'ENOTDIR'
    ? new EngineError('file-not-found', `there is no elevation file or folder "${path}": check the path`, {
        file: path,
      })
    : new EngineError(
        'file-unreadable',
        `"${path}" cannot be read (${String(code)}): check its permissions`,
        {
          file: path,
        },
      );
}

async function walk(
  folder: string,
  depth: number,
  add: (path: string, kind: TileKind) => void,
): Promise<void> {
  const names = await readdir(folder).catch((error: unknown) => {
    throw refusal(folder, error);
  });
  for (const name of names) {
    if (name.startsWith('.')) continue;
    const path = join(folder, name);
    // A link that leads nowhere, or a file removed meanwhile, is not a tile.
    const entry = await stat(path).catch(() => null);
    if (entry?.isDirectory() && depth < DEEPEST) await walk(path, depth + 1, add);
    const kind = tileKind(name);
    if (entry?.isFile() && kind !== 'unknown') add(path, kind);
  }
}
