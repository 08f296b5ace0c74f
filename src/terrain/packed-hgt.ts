import { open, stat } from 'node:fs/promises';
import { promisify } from 'node:util';
import { gunzip } from 'node:zlib';
import { LRUCache } from 'lru-cache';
import yauzl from 'yauzl';
import { EngineError, firstLine, systemCode } from '../errors.ts';
import { message } from '../message.ts';
import { type ByteRanges, fileChanged, lengthInside, versionOf } from './byte-ranges.ts';
import { refuse } from './geotiff-header.ts';

/*
 * The only file that unpacks archives. An archive's own word for its size is never trusted: unpacking stops at the
 * size of the largest SRTM tile, so a small file cannot fill the memory.
 */

/** 3601² postings of two bytes: no SRTM tile is larger. */
const LARGEST_TILE_BYTES = 3601 * 3601 * 2;
/** What packing may add to a file that does not shrink: zip and gzip headers, stored blocks (design). */
const PACKING_BYTES = 64 * 1024;
/** Entries of a zip looked at (design: NASADEM packs three files). */
const MOST_ENTRIES = 100;
/** Unpacked tiles kept, bytes (design: two of 1″, or 22 of 3″). */
const KEPT_BYTES = 2 * LARGEST_TILE_BYTES;

const gunzipped = promisify(gunzip);

interface Unpacked {
  /** Name of the file inside. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Unpacked tiles by path, least recently used out first. */
export type UnpackedTiles = LRUCache<string, Unpacked>;

export function unpackedTiles(): UnpackedTiles {
  return new LRUCache({ maxSize: KEPT_BYTES, sizeCalculation: ({ bytes }) => Math.max(1, bytes.byteLength) });
}

const tooLarge = (): EngineError =>
  refuse(
    message`it unpacks to more than ${LARGEST_TILE_BYTES} bytes, which no SRTM tile has: take it from where it is published`,
  );

async function readWhole(path: string): Promise<{ readonly bytes: Buffer; readonly version: string }> {
  const handle = await open(path, 'r');
  try {
    const file = await handle.stat();
    if (file.size > LARGEST_TILE_BYTES + PACKING_BYTES) throw tooLarge();
    return { bytes: await handle.readFile(), version: versionOf(file) };
  } finally {
    await handle.close();
  }
}

async function unpackGzip(path: string, packed: Buffer): Promise<Unpacked> {
  try {
    const bytes = await gunzipped(packed, { maxOutputLength: LARGEST_TILE_BYTES });
    return { name: path.replace(/\.gz$/i, ''), bytes };
  } catch (error) {
    if (systemCode(error) === 'ERR_BUFFER_TOO_LARGE') throw tooLarge();
    throw error;
  }
}

async function unpackZip(packed: Buffer): Promise<Unpacked> {
  const zip = await yauzl.fromBufferPromise(packed, { lazyEntries: true });
  let found: yauzl.Entry | null = null;
  let seen = 0;
  for await (const entry of zip.eachEntry()) {
    seen += 1;
    if (seen > MOST_ENTRIES)
      throw refuse(message`it holds more than ${MOST_ENTRIES} files: pack one tile alone`);
    if (!/\.hgt$/i.test(entry.fileName)) continue;
    if (found !== null) throw refuse('it holds several .hgt files: unpack it into a folder');
    found = entry;
  }
  if (found === null) throw refuse('it holds no .hgt file: unpack it, and give what is in it');
  if (found.isEncrypted()) throw refuse('it is locked with a password: unpack it first');
  if (found.uncompressedSize > LARGEST_TILE_BYTES) throw tooLarge();
  const parts: Buffer[] = [];
  let length = 0;
  for await (const part of await zip.openReadStreamPromise(found)) {
    length += part.length;
    if (length > LARGEST_TILE_BYTES) throw tooLarge();
    parts.push(part);
  }
  return { name: found.fileName, bytes: Buffer.concat(parts) };
}

export interface PackedTile {
  /** Name of the tile inside, which says where it lies. */
  readonly name: string;
  readonly ranges: ByteRanges;
}

/**
 * A gzipped or zipped SRTM tile as a source of bytes. It is unpacked whole, and again when it is asked for after others
 * have pushed it out of `kept`.
 * @throws EngineError `dem-unreadable`: no archive, not one tile in it, or more bytes than a tile has.
 */
export async function openPackedHgt(
  path: string,
  packing: 'gz' | 'zip',
  kept: UnpackedTiles,
): Promise<PackedTile> {
  async function unpack(): Promise<Unpacked & { readonly version: string }> {
    const { bytes, version } = await readWhole(path);
    try {
      const unpacked = await (packing === 'gz' ? unpackGzip(path, bytes) : unpackZip(bytes));
      kept.set(path, unpacked);
      return { ...unpacked, version };
    } catch (error) {
      if (error instanceof EngineError) throw error;
      throw refuse(
        message`it cannot be unpacked (${firstLine(error)}): cut short or damaged; fetch it again`,
      );
    }
  }
  const { name, bytes: first, version } = await unpack();
  const fileSize = first.byteLength;
  let unpacking: Promise<Uint8Array> | null = null;

  async function again(): Promise<Uint8Array> {
    const opened = await unpack();
    if (opened.version !== version) throw fileChanged();
    return opened.bytes;
  }

  async function whole(): Promise<Uint8Array> {
    if (versionOf(await stat(path)) !== version) throw fileChanged();
    const held = kept.get(path);
    if (held !== undefined) return held.bytes;
    unpacking ??= again().finally(() => {
      unpacking = null;
    });
    return unpacking;
  }

  async function read(offset: number, length: number): Promise<ArrayBuffer> {
    const inside = lengthInside(offset, length, fileSize);
    const bytes = await whole();
    return new Uint8Array(bytes.subarray(offset, offset + inside)).buffer;
  }

  return { name, ranges: { fileSize, version, read } };
}
