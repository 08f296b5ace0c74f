import { readdir, readFile, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { EngineError, systemCode } from '../errors.ts';
import { decodeText } from '../ingest/decode.ts';
import { parseJson } from '../ingest/json-text.ts';
import { quote } from '../ingest/quote.ts';
import { message } from '../message.ts';
import { folderSettings } from './folder-settings.ts';
import { knownProduct } from './known-products.ts';
import { tilesOfStac } from './stac.ts';
import { NOTHING_STATED, type Stated, statedOver } from './stated.ts';
import type { Refused } from './surface.ts';
import { isAddress } from './tile-address.ts';
import { type Listed, refuse, tilesOfVrt } from './vrt.ts';

type TileKind = 'geotiff' | 'hgt' | 'hgtGz' | 'hgtZip' | 'packed' | 'catalogue' | 'unknown';

export interface FoundTile {
  /** A path, or an address on the net. */
  readonly path: string;
  readonly kind: TileKind;
  readonly stated: Stated;
  /** `null` for an address, and where the file is not there. */
  readonly file: { readonly size: number; readonly mtimeMs: number } | null;
}

/** A folder and what lies up to this many folders below it (design: `state/county/tile.tif`). */
const DEEPEST = 3;
/** Catalogues are read up to this size, bytes (design: the largest VRT published has some 0.8 MB). */
const LARGEST_CATALOGUE = 64 * 1024 * 1024;

/** What a file is by its name. */
function tileKind(name: string): TileKind {
  if (/\.tiff?$/i.test(name)) return 'geotiff';
  if (/\.hgt$/i.test(name)) return 'hgt';
  if (/\.hgt\.gz$/i.test(name)) return 'hgtGz';
  if (/\.hgt\.zip$/i.test(name)) return 'hgtZip';
  if (/\.(hgt|tiff?)\.(gz|zip|bz2|xz)$/i.test(name)) return 'packed';
  return /\.(vrt|json|geojson)$/i.test(name) ? 'catalogue' : 'unknown';
}

/**
 * The elevation tiles among files, folders, catalogues (VRT, STAC) and addresses, each once, ordered by path; and the
 * catalogues that cannot be used. In folders, hidden files, catalogues
 * and files of other kinds are passed over; a file named outright is always in the answer.
 * @throws EngineError `file-not-found`, `file-unreadable` where the system refuses, or `bad-settings` of a folder.
 */
export async function findTiles(paths: readonly string[]) {
  const found = new Map<string, FoundTile>();
  const refused: Refused[] = [];
  const add = (tile: FoundTile) => {
    const whole = isAddress(tile.path) ? tile.path : resolve(tile.path);
    // A catalogue may say more of a tile that its folder gave already.
    const before = found.get(whole);
    const stated = before === undefined ? tile.stated : statedOver(before.stated, tile.stated);
    found.set(whole, { ...(before ?? tile), stated });
  };
  for (const path of paths) {
    if (isAddress(path)) {
      add(tileAt(path, NOTHING_STATED, null));
      continue;
    }
    const entry = await look(path);
    if (entry.isDirectory()) await walk(path, 0, NOTHING_STATED, add);
    else if (tileKind(path) === 'catalogue') {
      try {
        for (const tile of await catalogued(path)) add(tile);
      } catch (error) {
        if (!(error instanceof EngineError)) throw error;
        refused.push({ path, code: error.code, reason: error.reason });
      }
    } else add(tileAt(path, await folderSettings(dirname(path)), entry));
  }
  const tiles = [...found.values()].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  return { tiles, refused };
}

function tileAt(path: string, stated: Stated, file: FoundTile['file']): FoundTile {
  const name = isAddress(path) && URL.canParse(path) ? new URL(path).pathname : path;
  return {
    path,
    kind: tileKind(name),
    stated: statedOver(stated, knownProduct(name)),
    file: file === null ? null : { size: file.size, mtimeMs: file.mtimeMs },
  };
}

async function catalogued(path: string): Promise<FoundTile[]> {
  const folder = dirname(path);
  const { size } = await look(path);
  if (size > LARGEST_CATALOGUE) throw refuse(message`it has ${size} bytes, more than a list of tiles takes`);
  const { text } = decodeText(await readFile(path));
  const isVrt = /\.vrt$/i.test(path);
  const listed = isVrt ? tilesOfVrt(text, path) : tilesOfStac(parseJson(text, 'dem-catalogue'), path);
  const settings = await folderSettings(folder);
  const tiles: FoundTile[] = [];
  for (const one of listed) tiles.push(await listedTile(folder, settings, one, isVrt));
  return tiles;
}

async function listedTile(folder: string, settings: Stated, one: Listed, isVrt: boolean): Promise<FoundTile> {
  const isRemote = !isVrt && isAddress(one.written);
  const path = isRemote ? one.written : pathInside(folder, one.written);
  const file = isRemote ? null : await stat(path).catch(() => null);
  const tile = tileAt(path, statedOver(settings, one.stated), file);
  if (tile.kind !== 'geotiff' && tile.kind !== 'hgt')
    throw refuse(message`it lists "${one.written}", which is neither .tif nor .hgt`);
  // The words of a licence that is known win over names put together from a catalogue.
  const fixed = knownProduct(path).attribution;
  const ours = settings.attribution.length === 0 && fixed.length > 0;
  return ours ? { ...tile, stated: { ...tile.stated, attribution: fixed } } : tile;
}

const look = (path: string) =>
  stat(path).catch((error: unknown) => {
    throw refusal(path, error);
  });

function refusal(path: string, error: unknown): EngineError {
  const code = systemCode(error);
  return code === 'ENOENT' || code === 'ENOTDIR'
    ? new EngineError(
        'file-not-found',
        message`there is no elevation file or folder "${path}": check the path`,
        {
          file: path,
        },
      )
    : new EngineError('file-unreadable', message`"${path}" cannot be read (${code}): check its permissions`, {
        file: path,
      });
}

async function walk(
  folder: string,
  depth: number,
  above: Stated,
  add: (tile: FoundTile) => void,
): Promise<void> {
  const names = await readdir(folder).catch((error: unknown) => {
    throw refusal(folder, error);
  });
  const stated = statedOver(await folderSettings(folder), above);
  for (const name of names) {
    if (name.startsWith('.')) continue;
    const path = join(folder, name);
    // A link that leads nowhere, or a file removed meanwhile, is not a tile.
    const entry = await stat(path).catch(() => null);
    if (entry?.isDirectory() && depth < DEEPEST) await walk(path, depth + 1, stated, add);
    const kind = tileKind(name);
    if (entry?.isFile() && kind !== 'unknown' && kind !== 'catalogue') add(tileAt(path, stated, entry));
  }
}

/**
 * A path written in a catalogue of tiles (VRT, STAC), which may name only what lies in the catalogue's own folder.
 * @throws EngineError `dem-catalogue`: absolute paths, `..`, other addresses and GDAL's virtual file systems.
 */
function pathInside(folder: string, written: string): string {
  const path = written.replace(/^\.\//, '');
  const isOutside =
    path === '' ||
    // biome-ignore lint/suspicious/noControlCharactersInRegex: a path with one of these is an attempt
    /^[\\/~]|^[A-Za-z][\w+.-]*:|[\\\u0000-\u001f]/.test(path) ||
    path.split('/').includes('..');
  if (isOutside)
    throw refuse(
      message`it names the tile ${quote(written)}, which lies outside its own folder: put the tiles beside it and write their relative paths`,
    );
  return join(folder, path);
}
