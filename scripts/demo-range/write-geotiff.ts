import { constants, deflateSync } from 'node:zlib';

/** A grid of whole metres in WGS 84, its values standing on postings. */
export interface TiffGrid {
  readonly westDeg: number;
  readonly northDeg: number;
  readonly stepsPerDeg: number;
  readonly columns: number;
  readonly rows: number;
  readonly heightsM: Int16Array;
}

// TIFF field types and their bytes (TIFF 6.0, section 2).
const ASCII = 2;
const SHORT = 3;
const LONG = 4;
const DOUBLE = 12;
const TYPE_BYTES = new Map([
  [ASCII, 1],
  [SHORT, 2],
  [LONG, 4],
  [DOUBLE, 8],
]);

// Eight rows of 793 postings fill one DEFLATE block.
const ROWS_A_STRIP = 8;

/**
 * A little-endian GeoTIFF: int16, DEFLATE strips with predictor 2, PixelIsPoint, EPSG:4326 with heights in
 * metres above EGM2008 (TIFF 6.0 sections 2, 8, 14; OGC 19-008 GeoTIFF 1.1 for the keys).
 * Huffman coding alone, in strips of one block: then the bytes hang on no search for repeats,
 * which differs from one build of zlib to another.
 */
export function writeGeotiff(grid: TiffGrid): Buffer {
  const strips: Buffer[] = [];
  for (let row = 0; row < grid.rows; row += ROWS_A_STRIP) strips.push(packStrip(grid, row));
  const step = 1 / grid.stepsPerDeg;
  const keys = [
    [1, 1, 1, 0],
    [1024, 0, 1, 2], // GTModelType: geographic
    [1025, 0, 1, 2], // GTRasterType: PixelIsPoint
    [2048, 0, 1, 4326], // GeodeticCRS
    [2054, 0, 1, 9102], // GeogAngularUnits: degree
    [4096, 0, 1, 3855], // VerticalCS: EGM2008 height
    [4099, 0, 1, 9001], // VerticalUnits: metre
  ];
  const header: number[] = keys[0] ?? [];
  header[3] = keys.length - 1;
  const fields: [tag: number, type: number, values: readonly number[]][] = [
    [256, LONG, [grid.columns]],
    [257, LONG, [grid.rows]],
    [258, SHORT, [16]],
    [259, SHORT, [8]], // compression: Adobe DEFLATE
    [262, SHORT, [1]],
    [273, LONG, strips.map(() => 0)],
    [277, SHORT, [1]],
    [278, LONG, [ROWS_A_STRIP]],
    [279, LONG, strips.map((strip) => strip.length)],
    [284, SHORT, [1]],
    [317, SHORT, [2]], // predictor: horizontal differences
    [339, SHORT, [2]], // sample format: signed
    [33550, DOUBLE, [step, step, 0]],
    [33922, DOUBLE, [0, 0, 0, grid.westDeg, grid.northDeg, 0]],
    [34735, SHORT, keys.flat()],
    [42113, ASCII, [...Buffer.from('-32768\0')]],
  ];
  const bytesOf = (type: number, count: number): number => (TYPE_BYTES.get(type) ?? 1) * count;
  const outside = fields.map(([, type, values]) => bytesOf(type, values.length)).filter((bytes) => bytes > 4);
  const dataStart = 8 + 2 + fields.length * 12 + 4;
  let stripStart = dataStart + outside.reduce((sum, bytes) => sum + bytes + (bytes % 2), 0);
  const offsets = strips.map((strip) => {
    const at = stripStart;
    stripStart += strip.length;
    return at;
  });
  const head = Buffer.alloc(offsets[0] ?? dataStart);
  head.write('II', 0, 'latin1');
  head.writeUInt16LE(42, 2);
  head.writeUInt32LE(8, 4);
  head.writeUInt16LE(fields.length, 8);
  let entry = 10;
  let free = dataStart;
  for (const [tag, type, values] of fields) {
    const bytes = bytesOf(type, values.length);
    head.writeUInt16LE(tag, entry);
    head.writeUInt16LE(type, entry + 2);
    head.writeUInt32LE(values.length, entry + 4);
    let at = entry + 8;
    if (bytes > 4) {
      head.writeUInt32LE(free, at);
      at = free;
      free += bytes + (bytes % 2);
    }
    for (const value of tag === 273 ? offsets : values) {
      if (type === ASCII) head.writeUInt8(value, at);
      else if (type === SHORT) head.writeUInt16LE(value, at);
      else if (type === LONG) head.writeUInt32LE(value, at);
      else head.writeDoubleLE(value, at);
      at += bytesOf(type, 1);
    }
    entry += 12;
  }
  return Buffer.concat([head, ...strips]);
}

function packStrip(grid: TiffGrid, firstRow: number): Buffer {
  const rows = Math.min(ROWS_A_STRIP, grid.rows - firstRow);
  const bytes = Buffer.alloc(rows * grid.columns * 2);
  for (let row = 0; row < rows; row++) {
    let before = 0;
    for (let column = 0; column < grid.columns; column++) {
      const height = grid.heightsM[(firstRow + row) * grid.columns + column] ?? 0;
      bytes.writeInt16LE(((height - before) << 16) >> 16, (row * grid.columns + column) * 2);
      before = height;
    }
  }
  return deflateSync(bytes, { level: 6, memLevel: 8, windowBits: 15, strategy: constants.Z_HUFFMAN_ONLY });
}
