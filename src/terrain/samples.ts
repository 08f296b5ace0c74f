/** How the numbers of a file are written, and what turns them into metres. */
export interface SampleCoding {
  readonly kind: 'int' | 'uint' | 'float';
  readonly bits: 16 | 32 | 64;
  readonly littleEndian: boolean;
  /** The number that means void, before scale and offset; `null` when the file names none. */
  readonly nodata: number | null;
  /** Also take the usual void numbers as void: for files that name none. */
  readonly usualVoids: boolean;
  readonly scale: number;
  readonly offset: number;
  readonly mPerUnit: number;
}

/** Heights of a block in metres; NaN where void. Single precision only where it holds the file's numbers exactly. */
export type Heights = Float32Array | Float64Array;

/** Heights outside this range are not terrain anyone walks: the Dead Sea shore is at −430 m, Everest at 8,849 m (inputs: SRTM and 3DEP fills lie beyond). */
export const LOWEST_GROUND_M = -500;
export const HIGHEST_GROUND_M = 9000;

// Met in DEMs that forget the tag: SRTM −32768, DTED −32767, ESRI and GDAL habits −9999 to −999999, unsigned twins.
const USUAL_VOIDS = new Set([-32768, -32767, -9999, -99999, -999999, 32767, 65535]);
const SHALLOWEST_USUAL = -9999;
const LOWEST_HIGH_USUAL = 32767;

/** Whether the numbers of the file are heights in metres as they stand. */
const isPlain = ({ scale, offset, mPerUnit }: SampleCoding): boolean =>
  scale === 1 && offset === 0 && mPerUnit === 1;

/** Room for heights, all void. In whole numbers of metres as in 32-bit floats nothing is lost in 32 bits. */
export function voidHeights(coding: SampleCoding, count: number): Heights {
  const isSingle = isPlain(coding) && !(coding.kind === 'float' && coding.bits === 64);
  return (isSingle ? new Float32Array(count) : new Float64Array(count)).fill(Number.NaN);
}

type Samples = Int16Array | Uint16Array | Int32Array | Uint32Array | Float32Array | Float64Array;

/** Little-endian bytes as numbers; they stand at a multiple of eight in their buffer. */
function samplesOf({ buffer, byteOffset, byteLength }: Uint8Array, { kind, bits }: SampleCoding): Samples {
  const count = Math.floor((byteLength * 8) / bits);
  if (bits === 16)
    return kind === 'int'
      ? new Int16Array(buffer, byteOffset, count)
      : new Uint16Array(buffer, byteOffset, count);
  if (bits === 64) return new Float64Array(buffer, byteOffset, count);
  if (kind === 'float') return new Float32Array(buffer, byteOffset, count);
  return kind === 'int'
    ? new Int32Array(buffer, byteOffset, count)
    : new Uint32Array(buffer, byteOffset, count);
}

/** The part of a block that the grid fills. */
export interface GridPart {
  readonly columns: number;
  readonly rows: number;
}

/**
 * Heights in metres of a block of little-endian samples, row by row; void, and beyond the grid's part, NaN.
 * The bytes are used up: where they are heights already, they become the answer.
 */
export function blockHeights(
  bytes: Uint8Array,
  coding: SampleCoding,
  blockWidth: number,
  blockHeight: number,
  part: GridPart,
): Heights {
  const samples = samplesOf(bytes, coding);
  const count = blockWidth * blockHeight;
  if (samples instanceof Float32Array && isPlain(coding) && samples.length >= count) {
    const heights = samples.subarray(0, count);
    if (part.columns < blockWidth)
      for (let row = 0; row < part.rows; row += 1)
        heights.fill(Number.NaN, row * blockWidth + part.columns, (row + 1) * blockWidth);
    heights.fill(Number.NaN, part.rows * blockWidth);
    voidInPlace(heights, coding);
    return heights;
  }
  const heights = voidHeights(coding, count);
  // Whole rows are one run.
  const [runs, length] =
    part.columns === blockWidth ? [1, blockWidth * part.rows] : [part.rows, part.columns];
  for (let run = 0; run < runs; run += 1) writeHeights(samples, run * blockWidth, length, coding, heights);
  return heights;
}

/** The number that means void as the samples hold it: `-3.4e38` as text is not the number stored in 32 bits. */
function storedNodata({ nodata, kind, bits }: SampleCoding): number | null {
  return nodata !== null && kind === 'float' && bits === 32 ? Math.fround(nodata) : nodata;
}

const isUsualVoid = (raw: number): boolean =>
  (raw <= SHALLOWEST_USUAL || raw >= LOWEST_HIGH_USUAL) && USUAL_VOIDS.has(raw);

/**
 * Void is: not finite; equal to the file's void number; a usual void where the file names none; or a height outside the
 * range of the ground anywhere on land, whatever the file says, because a wrong height is worse than none.
 */
function writeHeights(
  samples: Samples,
  first: number,
  count: number,
  coding: SampleCoding,
  out: Heights,
): void {
  const { scale, offset, mPerUnit, usualVoids } = coding;
  const nodata = storedNodata(coding);
  for (let i = first; i < first + count; i += 1) {
    const raw = samples[i] as number;
    const heightM = (raw * scale + offset) * mPerUnit;
    const isVoid =
      raw === nodata ||
      !(heightM >= LOWEST_GROUND_M && heightM <= HIGHEST_GROUND_M) ||
      (usualVoids && isUsualVoid(raw));
    out[i] = isVoid ? Number.NaN : heightM;
  }
}

/** As `writeHeights` where the numbers are heights already. The usual void numbers lie outside the ground's range. */
function voidInPlace(heights: Float32Array, coding: SampleCoding): void {
  const nodata = storedNodata(coding);
  for (let i = 0; i < heights.length; i += 1) {
    const heightM = heights[i] as number;
    if (!(heightM >= LOWEST_GROUND_M && heightM <= HIGHEST_GROUND_M) || heightM === nodata)
      heights[i] = Number.NaN;
  }
}
