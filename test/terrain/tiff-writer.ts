import { deflateSync } from 'node:zlib';

/** What a test file says; every field that is left out is left out of the file too. */
export interface TiffPlan {
  readonly width: number;
  readonly height: number;
  /** Height of a posting as the file writes it. */
  readonly value: (column: number, row: number) => number;
  readonly sample?: 'int16' | 'uint16' | 'float32' | 'float64' | 'uint8';
  readonly littleEndian?: boolean;
  readonly tiepoint?: readonly number[];
  readonly pixelScale?: readonly number[];
  readonly transformation?: readonly number[];
  /** GeoKeys with short values. */
  readonly keys?: Readonly<Record<number, number>>;
  readonly nodata?: string;
  readonly metadata?: string;
  readonly rowsPerStrip?: number;
  readonly compression?: number;
  readonly predictor?: number;
  readonly bands?: number;
  readonly photometric?: number;
  readonly newSubfileType?: number;
  /** Strips that are not written: offset and count 0. */
  readonly sparse?: (strip: number) => boolean;
  /** Width and height in the header where they shall lie. */
  readonly claim?: { readonly width: number; readonly height: number };
  /** A second directory with this NewSubfileType. */
  readonly secondSubfileType?: number;
}

export const AREA = 1;
export const POINT = 2;
export const degrees = (rasterType: number, system = 4326): Record<number, number> => ({
  1024: 2,
  1025: rasterType,
  2048: system,
});

const BYTES = { uint8: 1, int16: 2, uint16: 2, float32: 4, float64: 8 } as const;
const FORMAT = { uint8: 1, int16: 2, uint16: 1, float32: 3, float64: 3 } as const;
type Type = 2 | 3 | 4 | 12;
const SIZE: Record<Type, number> = { 2: 1, 3: 2, 4: 4, 12: 8 };

/** A classic TIFF in strips, byte by byte from TIFF 6.0: outside the reader under test, so it can also write what nobody should. */
export function writeTiff(plan: TiffPlan): Buffer {
  const little = plan.littleEndian ?? true;
  const sample = plan.sample ?? 'float32';
  const rowsPerStrip = plan.rowsPerStrip ?? plan.height;
  const bands = plan.bands ?? 1;
  const strips: Buffer[] = [];
  for (let first = 0; first < plan.height; first += rowsPerStrip) {
    const rows = Math.min(rowsPerStrip, plan.height - first);
    const raw = Buffer.alloc(rows * plan.width * bands * BYTES[sample]);
    const view = new DataView(raw.buffer, raw.byteOffset, raw.byteLength);
    for (let i = 0; i < rows * plan.width; i += 1) {
      const value = plan.value(i % plan.width, first + Math.floor(i / plan.width));
      for (let band = 0; band < bands; band += 1) {
        const at = (i * bands + band) * BYTES[sample];
        if (sample === 'uint8') view.setUint8(at, value);
        else if (sample === 'int16') view.setInt16(at, value, little);
        else if (sample === 'uint16') view.setUint16(at, value, little);
        else if (sample === 'float32') view.setFloat32(at, value, little);
        else view.setFloat64(at, value, little);
      }
    }
    if (plan.sparse?.(strips.length) === true) strips.push(Buffer.alloc(0));
    else strips.push(plan.compression === 8 ? deflateSync(raw) : raw);
  }

  const head = 8;
  const offsets: number[] = [];
  let at = head;
  for (const strip of strips) {
    offsets.push(strip.length === 0 ? 0 : at);
    at += strip.length + (strip.length % 2);
  }
  const keys = Object.entries(plan.keys ?? degrees(POINT)).map(([id, value]) => [Number(id), 0, 1, value]);
  const tags: [number, Type, readonly number[] | string][] = [
    [254, 4, [plan.newSubfileType ?? 0]],
    [256, 4, [plan.claim?.width ?? plan.width]],
    [257, 4, [plan.claim?.height ?? plan.height]],
    [258, 3, new Array(bands).fill(BYTES[sample] * 8)],
    [259, 3, [plan.compression ?? 1]],
    [262, 3, [plan.photometric ?? 1]],
    [273, 4, offsets],
    [277, 3, [bands]],
    [278, 4, [rowsPerStrip]],
    [279, 4, strips.map((strip) => strip.length)],
    [284, 3, [1]],
    [339, 3, new Array(bands).fill(FORMAT[sample])],
    [34735, 3, [1, 1, 0, keys.length, ...keys.flat()]],
  ];
  if (plan.predictor !== undefined) tags.push([317, 3, [plan.predictor]]);
  if (plan.pixelScale !== undefined) tags.push([33550, 12, plan.pixelScale]);
  if (plan.tiepoint !== undefined) tags.push([33922, 12, plan.tiepoint]);
  if (plan.transformation !== undefined) tags.push([34264, 12, plan.transformation]);
  if (plan.nodata !== undefined) tags.push([42113, 2, `${plan.nodata}\0`]);
  if (plan.metadata !== undefined) tags.push([42112, 2, `${plan.metadata}\0`]);
  tags.sort(([a], [b]) => a - b);

  const second = plan.secondSubfileType;
  const first = directory(tags, at, little, second === undefined ? 0 : 'next');
  const parts = [first];
  if (second !== undefined) parts.push(directory([[254, 4, [second]]], at + first.length, little, 0));
  const header = Buffer.alloc(head);
  const view = new DataView(header.buffer, header.byteOffset, head);
  header.write(little ? 'II' : 'MM', 0, 'latin1');
  view.setUint16(2, 42, little);
  view.setUint32(4, at, little);
  const padded = strips.flatMap((strip) => [strip, Buffer.alloc(strip.length % 2)]);
  return Buffer.concat([header, ...padded, ...parts]);
}

function directory(
  tags: readonly [number, Type, readonly number[] | string][],
  start: number,
  little: boolean,
  next: 0 | 'next',
): Buffer {
  const fixed = 2 + tags.length * 12 + 4;
  const lengths = tags.map(([, type, values]) => values.length * SIZE[type]);
  const extra = lengths.reduce((sum, length) => sum + (length > 4 ? length + (length % 2) : 0), 0);
  const bytes = Buffer.alloc(fixed + extra);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  view.setUint16(0, tags.length, little);
  let free = fixed;
  tags.forEach(([tag, type, values], i) => {
    const entry = 2 + i * 12;
    const length = lengths[i] ?? 0;
    view.setUint16(entry, tag, little);
    view.setUint16(entry + 2, type, little);
    view.setUint32(entry + 4, values.length, little);
    let place = entry + 8;
    if (length > 4) {
      view.setUint32(place, start + free, little);
      place = free;
      free += length + (length % 2);
    }
    if (typeof values === 'string') bytes.write(values, place, 'latin1');
    else
      values.forEach((value, k) => {
        if (type === 3) view.setUint16(place + k * 2, value, little);
        else if (type === 4) view.setUint32(place + k * 4, value, little);
        else view.setFloat64(place + k * 8, value, little);
      });
  });
  view.setUint32(fixed - 4, next === 0 ? 0 : start + bytes.length, little);
  return bytes;
}
