import { HIGHEST_GROUND_M, LOWEST_GROUND_M } from './tile.ts';

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

// Met in DEMs that forget the tag: SRTM −32768, DTED −32767, ESRI and GDAL habits −9999 to −999999, unsigned twins.
const USUAL_VOIDS = new Set([-32768, -32767, -9999, -99999, -999999, 32767, 65535]);

function reader(view: DataView, coding: SampleCoding): (byteOffset: number) => number {
  const { littleEndian } = coding;
  switch (`${coding.kind}${coding.bits}`) {
    case 'int16':
      return (at) => view.getInt16(at, littleEndian);
    case 'int32':
      return (at) => view.getInt32(at, littleEndian);
    case 'uint16':
      return (at) => view.getUint16(at, littleEndian);
    case 'uint32':
      return (at) => view.getUint32(at, littleEndian);
    case 'float32':
      return (at) => view.getFloat32(at, littleEndian);
    case 'float64':
      return (at) => view.getFloat64(at, littleEndian);
    default:
      throw new RangeError(`no reader for ${coding.bits}-bit ${coding.kind}`);
  }
}

/**
 * Heights in metres of a run of raw samples, written into `out` from `outStart`; void is NaN.
 *
 * Void is: not finite; equal to `nodata` (as float32 where the samples are, since `-3.4e38` as text is
 * not the stored number); a usual void where the file names none; or a height outside the range of the
 * ground anywhere on land, whatever the file says, because a wrong height is worse than none.
 */
export function readHeights(
  bytes: ArrayBuffer,
  firstSample: number,
  count: number,
  coding: SampleCoding,
  out: Float64Array,
  outStart: number,
): void {
  const read = reader(new DataView(bytes), coding);
  const bytesEach = coding.bits / 8;
  const single = coding.kind === 'float' && coding.bits === 32;
  const nodata = coding.nodata !== null && single ? Math.fround(coding.nodata) : coding.nodata;
  for (let i = 0; i < count; i += 1) {
    const raw = read((firstSample + i) * bytesEach);
    const heightM = (raw * coding.scale + coding.offset) * coding.mPerUnit;
    const isVoid =
      raw === nodata ||
      (coding.usualVoids && USUAL_VOIDS.has(raw)) ||
      !(heightM >= LOWEST_GROUND_M && heightM <= HIGHEST_GROUND_M);
    out[outStart + i] = isVoid ? Number.NaN : heightM;
  }
}
