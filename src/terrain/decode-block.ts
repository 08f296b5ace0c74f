import { inflateSync } from 'node:zlib';
import type { ZSTDDecoder } from 'zstddec';
import { inflateLzw } from './lzw.ts';
import { inflatePackBits } from './pack-bits.ts';
import { swapBytes, undoDifferences, undoFloatDifferences } from './predictors.ts';
import { blockHeights, type GridPart, type Heights, type SampleCoding } from './samples.ts';

/*
 * From a block's bytes in the file to heights in metres: pure, and without geotiff, whose import can bring a thread
 * down. What a block may grow to is fixed before anything is unpacked, by its size in the header.
 */

/** By the number of TIFF's Compression tag. LERC's further packing is in `LercParameters`. */
export const COMPRESSION = {
  none: 1,
  lzw: 5,
  deflate: 8,
  oldDeflate: 32946,
  packBits: 32773,
  lerc: 34887,
  zstd: 50000,
} as const;

/** How the blocks of one tile are written. */
export interface BlockCoding extends SampleCoding {
  readonly compression: number;
  /** 1 none, 2 differences, 3 differences of floats. */
  readonly predictor: number;
  /** What LERC's blob is packed with besides: 0 nothing, 1 DEFLATE, 2 ZSTD. */
  readonly lercPacking: number;
  readonly blockWidth: number;
  readonly blockHeight: number;
}

/** The part of a block that the grid fills, and the rows that its bytes hold at least. */
export interface BlockExtent extends GridPart {
  readonly rowsHeld: number;
}

/**
 * Heights of one block, `blockWidth × blockHeight` row by row in metres; void, and beyond the grid, NaN.
 * The bytes are used up.
 * @throws Error where they do not give the samples that the header promises.
 */
export async function decodeBlock(
  bytes: ArrayBuffer,
  coding: BlockCoding,
  extent: BlockExtent,
): Promise<Heights> {
  const { blockWidth, blockHeight, bits } = coding;
  const bytesEach = bits / 8;
  const most = blockWidth * blockHeight * bytesEach;
  const least = blockWidth * extent.rowsHeld * bytesEach;
  if (coding.compression === COMPRESSION.lerc) return decodeLerc(bytes, coding, extent);
  const unpacked = await unpack(bytes, coding.compression, most);
  // A last strip holds its own rows or a whole strip's; anything between was made for another width.
  const isBetween = coding.compression !== COMPRESSION.none && unpacked.length > least;
  if (unpacked.length < least || (isBetween && unpacked.length < most))
    throw new Error(`the block decodes to ${unpacked.length} bytes where ${least} are needed`);
  const raw = aligned(unpacked.subarray(0, unpacked.length >= most ? most : least));
  if (coding.predictor === 3) undoFloatDifferences(raw, blockWidth, bytesEach);
  else {
    if (!coding.littleEndian) swapBytes(raw, bytesEach);
    if (coding.predictor === 2) undoDifferences(raw, blockWidth, bytesEach);
  }
  return blockHeights(raw, coding, blockWidth, blockHeight, extent);
}

/** Bytes at a place where wider numbers can stand. */
const aligned = (bytes: Uint8Array): Uint8Array =>
  bytes.byteOffset % 8 === 0 ? bytes : new Uint8Array(bytes);

async function unpack(bytes: ArrayBuffer, compression: number, most: number): Promise<Uint8Array> {
  const input = new Uint8Array(bytes);
  switch (compression) {
    case COMPRESSION.none:
      return input;
    case COMPRESSION.deflate:
    case COMPRESSION.oldDeflate:
      return inflateSync(input, { maxOutputLength: most, chunkSize: most + 64 });
    case COMPRESSION.zstd:
      return unpackZstd(input, most);
    case COMPRESSION.lzw:
      return inflateLzw(input, most);
    case COMPRESSION.packBits:
      return inflatePackBits(input, most);
    default:
      throw new RangeError(`no decoder for compression ${compression}`);
  }
}

let zstd: Promise<ZSTDDecoder> | null = null;

async function unpackZstd(input: Uint8Array, most: number): Promise<Uint8Array> {
  zstd ??= (async () => {
    // Few tiles need it: fetched when one does.
    const library = await import('zstddec');
    const decoder = new library.ZSTDDecoder();
    await decoder.init();
    return decoder;
  })();
  // What does not fit, and what is damaged, comes back empty.
  return (await zstd).decode(input, most);
}

const LERC2 = 'Lerc2 ';
const LERC2_CHECKED = 3;
// Lerc2's kinds of numbers, from the LERC specification: 2 int16, 3 uint16, 4 int32, 5 uint32, 6 float32, 7 float64.
const LERC_KINDS: Readonly<Record<string, number>> = {
  int16: 2,
  uint16: 3,
  int32: 4,
  uint32: 5,
  float32: 6,
  float64: 7,
};

/** A LERC blob says its own size and kind, and is held to the header's before it is unpacked. */
async function decodeLerc(bytes: ArrayBuffer, coding: BlockCoding, extent: BlockExtent): Promise<Heights> {
  const { blockWidth, blockHeight, bits, kind } = coding;
  // Packed noise grows a little: twice the samples and a page hold any blob of the block.
  const room = blockWidth * blockHeight * (bits / 8) * 2 + 65536;
  const packed =
    coding.lercPacking === 1 ? COMPRESSION.deflate : coding.lercPacking === 2 ? COMPRESSION.zstd : 1;
  const blob = await unpack(bytes, packed, room);
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength);
  const magic = String.fromCharCode(...blob.subarray(0, LERC2.length));
  const version = blob.length > 40 ? view.getInt32(6, true) : 0;
  if (magic !== LERC2 || version < 1 || version > 4)
    throw new Error('the block is no LERC blob that is read');
  const at = version >= LERC2_CHECKED ? 14 : 10;
  const rows = view.getInt32(at, true);
  const columns = view.getInt32(at + 4, true);
  const dimensions = version >= 4 ? view.getInt32(at + 8, true) : 1;
  const kindAt = at + (version >= 4 ? 24 : 20);
  const isOurs =
    columns === blockWidth &&
    rows <= blockHeight &&
    rows >= extent.rowsHeld &&
    dimensions === 1 &&
    view.getInt32(kindAt, true) === LERC_KINDS[`${kind}${bits}`];
  if (!isOurs) throw new Error('the LERC blob is of another size or kind than the header says');
  const { default: Lerc } = await import('lerc');
  let image: ReturnType<typeof Lerc.decode>;
  try {
    image = Lerc.decode(new Uint8Array(blob).buffer);
  } catch (error) {
    // The library throws plain text.
    throw new Error(`the LERC blob is damaged (${String(error).slice(0, 80)})`);
  }
  const values = image.pixels[0];
  if (values === undefined || values.length < blockWidth * extent.rowsHeld)
    throw new Error('the LERC blob holds too few samples');
  const samples = new Uint8Array(values.buffer, values.byteOffset, values.length * (bits / 8));
  const heights = blockHeights(aligned(samples), coding, blockWidth, blockHeight, extent);
  const { mask } = image;
  if (mask !== undefined && mask !== null)
    for (let i = 0; i < blockWidth * extent.rows; i += 1) if (!mask[i]) heights[i] = Number.NaN;
  return heights;
}
