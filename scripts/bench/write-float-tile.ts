import { closeSync, openSync, writeSync } from 'node:fs';
import { deflateSync } from 'node:zlib';

/** A float32 GeoTIFF with predictor 3 as the large national sets are: tiled, little-endian, PixelIsPoint, NAD83. */
export interface FloatTile {
  readonly westDeg: number;
  readonly northDeg: number;
  readonly stepDeg: number;
  /** Postings a side. */
  readonly side: number;
  readonly blockSide: number;
  readonly packing: 'deflate' | 'lzw';
  readonly height: (column: number, row: number) => number;
  /** Blocks that are written; others are left out, as sparse files do. */
  readonly isWritten: (blockX: number, blockY: number) => boolean;
}

/** Predictor 3 (Adobe, TIFF Technical Note 3): the bytes of a row by weight, each as the difference from the one before. */
function predicted(values: Float32Array, width: number): Uint8Array {
  const bytes = new Uint8Array(values.buffer);
  const out = new Uint8Array(bytes.length);
  for (let start = 0; start < bytes.length; start += width * 4) {
    for (let i = 0; i < width; i += 1)
      for (let b = 0; b < 4; b += 1) out[start + (3 - b) * width + i] = bytes[start + i * 4 + b] ?? 0;
    for (let i = start + width * 4 - 1; i > start; i -= 1) out[i] = (out[i] ?? 0) - (out[i - 1] ?? 0);
  }
  return out;
}

const CLEAR = 256;
const END = 257;
/** The table is cleared at this code, as libtiff's writer does (TIFF 6.0, section 13). */
const LAST = 4094;

/** TIFF's LZW (TIFF 6.0, section 13). */
export function deflateLzw(input: Uint8Array): Uint8Array {
  const out = new Uint8Array(input.length * 2 + 16);
  let written = 0;
  let held = 0;
  let heldBits = 0;
  let bits = 9;
  const put = (code: number) => {
    held = (held << bits) | code;
    heldBits += bits;
    while (heldBits >= 8) {
      heldBits -= 8;
      out[written] = (held >>> heldBits) & 0xff;
      written += 1;
    }
    held &= (1 << heldBits) - 1;
  };
  const table = new Map<number, number>();
  let free = 258;
  let prefix = -1;
  put(CLEAR);
  for (const byte of input) {
    if (prefix < 0) {
      prefix = byte;
      continue;
    }
    const pair = prefix * 256 + byte;
    const known = table.get(pair);
    if (known !== undefined) {
      prefix = known;
      continue;
    }
    put(prefix);
    table.set(pair, free);
    free += 1;
    if (free === LAST) {
      put(CLEAR);
      table.clear();
      free = 258;
      bits = 9;
    } else if (free === 1 << bits) bits += 1;
    prefix = byte;
  }
  if (prefix >= 0) {
    put(prefix);
    free += 1;
    if (free === 1 << bits && bits < 12) bits += 1;
  }
  put(END);
  if (heldBits > 0) {
    out[written] = (held << (8 - heldBits)) & 0xff;
    written += 1;
  }
  return out.subarray(0, written);
}

export function writeFloatTile(path: string, tile: FloatTile): void {
  const { side, blockSide } = tile;
  const across = Math.ceil(side / blockSide);
  const file = openSync(path, 'w');
  try {
    const offsets: number[] = [];
    const counts: number[] = [];
    let at = 8;
    for (let block = 0; block < across * across; block += 1) {
      const blockX = block % across;
      const blockY = Math.floor(block / across);
      if (!tile.isWritten(blockX, blockY)) {
        offsets.push(0);
        counts.push(0);
        continue;
      }
      const values = new Float32Array(blockSide * blockSide);
      for (let i = 0; i < values.length; i += 1)
        values[i] = tile.height(
          blockX * blockSide + (i % blockSide),
          blockY * blockSide + Math.floor(i / blockSide),
        );
      const raw = predicted(values, blockSide);
      const packed = tile.packing === 'lzw' ? deflateLzw(raw) : deflateSync(raw);
      writeSync(file, packed, 0, packed.length, at);
      offsets.push(at);
      counts.push(packed.length);
      at += packed.length + (packed.length % 2);
    }
    const step = tile.stepDeg;
    const fields: [tag: number, type: 2 | 3 | 4 | 12, values: readonly number[]][] = [
      [256, 4, [side]],
      [257, 4, [side]],
      [258, 3, [32]],
      [259, 3, [tile.packing === 'lzw' ? 5 : 8]],
      [262, 3, [1]],
      [277, 3, [1]],
      [317, 3, [3]],
      [322, 4, [blockSide]],
      [323, 4, [blockSide]],
      [324, 4, offsets],
      [325, 4, counts],
      [339, 3, [3]],
      [33550, 12, [step, step, 0]],
      [33922, 12, [0, 0, 0, tile.westDeg, tile.northDeg, 0]],
      // Geographic, PixelIsPoint, NAD83, heights NAVD88 in metres.
      [34735, 3, [1, 1, 0, 4, 1024, 0, 1, 2, 1025, 0, 1, 2, 2048, 0, 1, 4269, 4096, 0, 1, 5703]],
      [42113, 2, [...Buffer.from('-999999\0')]],
    ];
    const directory = directoryOf(fields, at);
    writeSync(file, directory, 0, directory.length, at);
    const head = Buffer.alloc(8);
    head.write('II*\0', 'latin1');
    head.writeUInt32LE(at, 4);
    writeSync(file, head, 0, 8, 0);
  } finally {
    closeSync(file);
  }
}

const SIZES = { 2: 1, 3: 2, 4: 4, 12: 8 } as const;

function directoryOf(
  fields: readonly [tag: number, type: 2 | 3 | 4 | 12, values: readonly number[]][],
  start: number,
): Buffer {
  const fixed = 2 + fields.length * 12 + 4;
  const room = (type: keyof typeof SIZES, count: number) =>
    SIZES[type] * count > 4 ? SIZES[type] * count : 0;
  const bytes = Buffer.alloc(
    fixed + fields.reduce((sum, [, type, values]) => sum + room(type, values.length), 0),
  );
  bytes.writeUInt16LE(fields.length, 0);
  let free = fixed;
  fields.forEach(([tag, type, values], i) => {
    const entry = 2 + i * 12;
    bytes.writeUInt16LE(tag, entry);
    bytes.writeUInt16LE(type, entry + 2);
    bytes.writeUInt32LE(values.length, entry + 4);
    let at = entry + 8;
    if (room(type, values.length) > 0) {
      bytes.writeUInt32LE(start + free, at);
      at = free;
      free += room(type, values.length);
    }
    for (const value of values) {
      if (type === 2) bytes.writeUInt8(value, at);
      else if (type === 3) bytes.writeUInt16LE(value, at);
      else if (type === 4) bytes.writeUInt32LE(value, at);
      else bytes.writeDoubleLE(value, at);
      at += SIZES[type];
    }
  });
  return bytes;
}
