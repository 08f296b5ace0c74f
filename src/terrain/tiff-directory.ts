import { message } from '../message.ts';
import type { ByteRanges } from './byte-ranges.ts';
import { refuse } from './geotiff-header.ts';

/*
 * A first look at a TIFF's directory, byte by byte (TIFF 6.0, section 2; BigTIFF): geotiff takes damaged directories as they
 * come, and of two entries of one tag the last, where other programs take the first.
 */

const ASCII = 2;
const SHORT = 3;
const DOUBLE = 12;
/** Bytes of each field type, 0 to 18; types 0, 14 and 15 are none. */
const SIZES = [NaN, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, NaN, NaN, 8, 8, 8];
const WHOLE_NUMBERS = [1, SHORT, 4, 16];

/** The tags that are read, and the types that they may have. */
const TYPES: ReadonlyMap<number, readonly number[]> = new Map([
  ...[254, 256, 257, 258, 259, 262, 266, 273, 277, 278, 279, 284, 317, 322, 323, 324, 325, 339, 50674].map(
    (tag): [number, number[]] => [tag, WHOLE_NUMBERS],
  ),
  ...[33550, 33922, 34264, 34736].map((tag): [number, number[]] => [tag, [DOUBLE]]),
  [34735, [SHORT]],
  ...[34737, 42112, 42113].map((tag): [number, number[]] => [tag, [ASCII]]),
]);

/** Tags of one number. */
const SINGLE = new Set([254, 256, 257, 259, 262, 266, 277, 278, 284, 317, 322, 323]);

/** Directories of tiles have some 20 entries (design: far more is damage). */
const MOST_ENTRIES = 1000;
/** Read at once: a header, and a directory that follows it. */
const FIRST_BYTES = 4096;

const DAMAGED = 'cut short or damaged; fetch it again';

/** @throws EngineError `dem-unreadable` where the first directory does not hold together. */
export async function checkDirectory(ranges: ByteRanges): Promise<void> {
  const head = new DataView(await ranges.read(0, FIRST_BYTES));
  if (head.byteLength < 16) throw refuse(message`it cannot be read as a TIFF (too short): ${DAMAGED}`);
  const order = head.getUint16(0);
  const little = order === 0x4949;
  const version = head.getUint16(2, little);
  if (!(little || order === 0x4d4d) || !(version === 42 || version === 43))
    throw refuse(message`it cannot be read as a TIFF (it does not begin as one): ${DAMAGED}`);
  const isBig = version === 43;
  const whole = (view: DataView, offset: number): number =>
    isBig ? Number(view.getBigUint64(offset, little)) : view.getUint32(offset, little);
  const start = whole(head, isBig ? 8 : 4);
  const countBytes = isBig ? 8 : 2;
  const entryBytes = isBig ? 20 : 12;
  const part = async (offset: number, length: number): Promise<DataView> => {
    if (!(offset >= 8 && offset + length <= ranges.fileSize))
      throw refuse(message`its directory lies beyond the end of the file: ${DAMAGED}`);
    return offset + length <= head.byteLength
      ? new DataView(head.buffer, offset, length)
      : new DataView(await ranges.read(offset, length));
  };
  const counted = await part(start, countBytes);
  const entries = isBig ? whole(counted, 0) : counted.getUint16(0, little);
  if (!(entries >= 1 && entries <= MOST_ENTRIES))
    throw refuse(message`its directory has ${entries} entries: ${DAMAGED}`);
  const table = await part(start + countBytes, entries * entryBytes);
  const seen = new Set<number>();
  for (let entry = 0; entry < entries * entryBytes; entry += entryBytes) {
    const tag = table.getUint16(entry, little);
    const types = TYPES.get(tag);
    if (types === undefined) continue;
    if (seen.has(tag)) throw refuse(message`its directory names tag ${tag} twice: ${DAMAGED}`);
    seen.add(tag);
    const type = table.getUint16(entry + 2, little);
    const count = whole(table, entry + 4);
    const bytes = count * (SIZES[type] ?? Number.NaN);
    const valueAt = entry + (isBig ? 12 : 8);
    const isInside = bytes <= (isBig ? 8 : 4) || whole(table, valueAt) + bytes <= ranges.fileSize;
    if (!types.includes(type) || !(bytes > 0) || !isInside || (SINGLE.has(tag) && count !== 1))
      throw refuse(
        message`its directory is damaged at tag ${tag} (type ${type}, ${count} values): ${DAMAGED}`,
      );
  }
}
