import { swapBytes } from './predictors.ts';

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
const LOWEST_GROUND_M = -500;
const HIGHEST_GROUND_M = 9000;

// Met in DEMs that forget the tag: SRTM −32768, DTED −32767, ESRI and GDAL habits −9999 to −999999, unsigned twins.
const USUAL_VOIDS = new Set([-32768, -32767, -9999, -99999, -999999, 32767, 65535]);
const SHALLOWEST_USUAL = -9999;
const LOWEST_HIGH_USUAL = 32767;

/** Room for heights, all void. In whole numbers of metres as in 32-bit floats nothing is lost in 32 bits. */
export function voidHeights(coding: SampleCoding, count: number): Heights {
  const isPlain = coding.scale === 1 && coding.offset === 0 && coding.mPerUnit === 1;
  const heights =
    isPlain && !(coding.kind === 'float' && coding.bits === 64)
      ? new Float32Array(count)
      : new Float64Array(count);
  return heights.fill(Number.NaN);
}

type Samples = Int16Array | Uint16Array | Int32Array | Uint32Array | Float32Array | Float64Array;

/** Little-endian bytes as numbers. */
function samplesOf(bytes: ArrayBuffer, { kind, bits }: SampleCoding): Samples {
  if (bits === 16) return kind === 'int' ? new Int16Array(bytes) : new Uint16Array(bytes);
  if (bits === 64) return new Float64Array(bytes);
  if (kind === 'float') return new Float32Array(bytes);
  return kind === 'int' ? new Int32Array(bytes) : new Uint32Array(bytes);
}

/**
 * Heights in metres of a run of raw samples, written into `out` from `outStart`; void is NaN.
 *
 * Void is: not finite; equal to `nodata` (as float32 where the samples are, since `-3.4e38` as text is
 * not the stored number); a usual void where the file names none; or a height outside the range of the
 * ground anywhere on land, whatever the file says, because a wrong height is worse than none.
 * @param bytes whole samples, in the byte order of `coding`
 */
export function readHeights(
  bytes: ArrayBuffer,
  firstSample: number,
  count: number,
  coding: SampleCoding,
  out: Heights,
  outStart: number,
): void {
  const { scale, offset, mPerUnit, usualVoids } = coding;
  const single = coding.kind === 'float' && coding.bits === 32;
  const nodata = coding.nodata !== null && single ? Math.fround(coding.nodata) : coding.nodata;
  const samples = samplesOf(coding.littleEndian ? bytes : swapped(bytes, coding.bits / 8), coding);
  for (let i = 0; i < count; i += 1) {
    const raw = samples[firstSample + i] ?? Number.NaN;
    const heightM = (raw * scale + offset) * mPerUnit;
    const isVoid =
      raw === nodata ||
      !(heightM >= LOWEST_GROUND_M && heightM <= HIGHEST_GROUND_M) ||
      (usualVoids && (raw <= SHALLOWEST_USUAL || raw >= LOWEST_HIGH_USUAL) && USUAL_VOIDS.has(raw));
    out[outStart + i] = isVoid ? Number.NaN : heightM;
  }
}

function swapped(bytes: ArrayBuffer, bytesEach: number): ArrayBuffer {
  const copy = bytes.slice(0);
  swapBytes(new Uint8Array(copy), bytesEach);
  return copy;
}
