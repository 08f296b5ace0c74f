import { EngineError } from '../errors.ts';
import { type Message, message } from '../message.ts';
import { COMPRESSION } from './decode-block.ts';
import type { SampleCoding } from './samples.ts';

/* What a GeoTIFF's directory says of its samples and blocks, held to what is read; nothing here is unpacked or placed. */

/** The tags of one image, by geotiff's names; `null` where missing. */
export interface Tags {
  /** @throws EngineError `dem-unreadable` where the tag is there and is no number. */
  number(name: string): number | null;
  numbers(name: string): ArrayLike<number> | null;
  text(name: string): string | null;
  /** Numbers or characters that the tag holds; 0 where missing. */
  length(name: string): number;
}

export const refuse = (what: string | Message): EngineError => new EngineError('dem-unreadable', what);

const READ: ReadonlySet<number> = new Set(Object.values(COMPRESSION));
// Predictors are part of these alone (TIFF 6.0, section 14).
const PREDICTED: ReadonlySet<number> = new Set([
  COMPRESSION.lzw,
  COMPRESSION.deflate,
  COMPRESSION.oldDeflate,
  COMPRESSION.zstd,
]);

// Limits on what a header may claim (design): a 1 m national tile is 10,000², USGS 1/3″ is 10,812², and the largest that is
// met in one piece is an SRTM tile of 3,601². A block of 4,096² is at most 128 MiB unpacked, two at a time; more is refused.
const LONGEST_SIDE = 1_000_000;
const LARGEST_BLOCK = 4096 * 4096;

const OVERVIEW_BIT = 1;
export const MASK_BIT = 4;

/** Postings across and down. */
export function sizeOf(tags: Tags) {
  const width = tags.number('ImageWidth') ?? 0;
  const height = tags.number('ImageLength') ?? 0;
  if (!(width >= 1 && height >= 1 && width <= LONGEST_SIDE && height <= LONGEST_SIDE))
    throw refuse(
      message`its header claims ${width} × ${height} postings, which no tile has (at most ${LONGEST_SIDE} a side): fetch it again`,
    );
  return { width, height };
}

/** Refuses what is no grid of one height a posting. */
export function checkOneBand(tags: Tags): void {
  const bands = tags.number('SamplesPerPixel') ?? 1;
  const photometric = tags.number('PhotometricInterpretation') ?? 1;
  if (photometric > 1)
    throw refuse('it is a picture (colours), not heights: take the elevation file, not its preview');
  if (bands !== 1)
    throw refuse(
      message`it has ${bands} bands where heights have one: extract the height band with gdal_translate -b`,
    );
  if ((tags.number('FillOrder') ?? 1) !== 1)
    throw refuse('its bits are written in reverse order: rewrite it with gdal_translate');
  if (((tags.number('NewSubfileType') ?? 0) & (OVERVIEW_BIT | MASK_BIT)) !== 0)
    throw refuse('its first image is an overview or a mask: rewrite it with gdal_translate');
}

/** Where the blocks stand in the file. */
export function layoutOf(tags: Tags, width: number, height: number) {
  const tiled = tags.numbers('StripOffsets') === null;
  const blockWidth = tiled ? (tags.number('TileWidth') ?? 0) : width;
  const rows = tiled ? tags.number('TileLength') : tags.number('RowsPerStrip');
  const blockHeight = tiled ? (rows ?? 0) : Math.min(rows ?? height, height);
  if (!(blockWidth >= 1 && blockHeight >= 1 && blockWidth * blockHeight <= LARGEST_BLOCK))
    throw refuse(
      message`its header claims blocks of ${blockWidth} × ${blockHeight} postings: rewrite it with gdal_translate -co TILED=YES`,
    );
  const offsets = tags.numbers(tiled ? 'TileOffsets' : 'StripOffsets') ?? [];
  const counts = tags.numbers(tiled ? 'TileByteCounts' : 'StripByteCounts') ?? [];
  const across = Math.ceil(width / blockWidth);
  const blocks = across * Math.ceil(height / blockHeight);
  if (offsets.length < blocks || counts.length < blocks)
    throw refuse(
      message`its table of blocks has ${Math.min(offsets.length, counts.length)} entries where ${blocks} are needed: fetch it again`,
    );
  return { tiled, blockWidth, blockHeight, across, offsets, counts };
}

export function sampleKind(tags: Tags): Pick<SampleCoding, 'kind' | 'bits'> {
  const format = tags.number('SampleFormat') ?? 1;
  const bits = tags.number('BitsPerSample') ?? 1;
  const kind = ({ 1: 'uint', 2: 'int', 3: 'float' } as const)[format];
  if (bits === 8)
    throw refuse('its samples have 8 bits: a picture such as a shaded relief, or too coarse for heights');
  if (kind === undefined || !(bits === 16 || bits === 32 || bits === 64))
    throw refuse(
      message`its samples (format ${format}, ${bits} bits) are not read: rewrite it with gdal_translate -ot Float32`,
    );
  if (bits === (kind === 'float' ? 16 : 64))
    throw refuse(
      message`its samples (${bits}-bit ${kind}) are not read: rewrite it with gdal_translate -ot Float32`,
    );
  return { kind, bits };
}

/** How the blocks are packed. */
export function packingOf(tags: Tags, kind: SampleCoding['kind'], littleEndian: boolean) {
  const compression = tags.number('Compression') ?? 1;
  if (!READ.has(compression))
    throw refuse(
      message`its compression (${compression}) is not read: rewrite it with gdal_translate -co COMPRESS=DEFLATE`,
    );
  // Others carry the tag without meaning it: GDAL looks at it for these alone.
  const predictor = PREDICTED.has(compression) ? (tags.number('Predictor') ?? 1) : 1;
  if (!(predictor === 1 || predictor === 2 || (predictor === 3 && kind === 'float')))
    throw refuse(
      message`its predictor (${predictor}) does not go with its samples: rewrite it with gdal_translate -co PREDICTOR=1`,
    );
  // Writers disagree about which bytes come first there: GDAL 3.6.2 reads garbage from what it wrote itself.
  if (!littleEndian && (predictor === 3 || compression === COMPRESSION.lerc))
    throw refuse(
      message`it is big-endian with ${predictor === 3 ? 'predictor 3' : 'LERC'}, which writers understand in different ways: rewrite it with gdal_translate -co ENDIANNESS=LITTLE`,
    );
  const lercPacking = compression === COMPRESSION.lerc ? (tags.numbers('LercParameters')?.[1] ?? 0) : 0;
  if (!(lercPacking >= 0 && lercPacking <= 2))
    throw refuse(
      message`its LERC packing (${lercPacking}) is not read: rewrite it with gdal_translate -co COMPRESS=DEFLATE`,
    );
  return { compression, predictor, lercPacking };
}

export interface BandFacts {
  readonly scale: number;
  readonly offset: number;
  readonly unit: string | null;
  /** GDAL's `DTED_VerticalDatum`, for tiles that were DTED once. */
  readonly dtedDatum: string | null;
}

type Metadata = Readonly<Record<string, unknown>>;

const countOf = (text: string, what: RegExp): number => text.match(what)?.length ?? 0;

/**
 * What GDAL's metadata say of the band and of the file.
 * @param text the tag as it stands: where it is not whole, GDAL reads none of it
 */
export function bandFacts(text: string, band: Metadata, whole: Metadata): BandFacts {
  const isWhole =
    text === '' ||
    (text.startsWith('<GDALMetadata>') &&
      text.endsWith('</GDALMetadata>') &&
      countOf(text, /<Item/g) === countOf(text, /<Item(\s+[\w:.-]+="[^"<]*")*\s*\/?>/g) &&
      countOf(text, /<Item/g) === countOf(text, /<\/Item>|<Item[^>]*\/>/g));
  if (!isWhole) throw refuse('its GDAL metadata are damaged: fetch it again');
  const number = (name: string, fallback: number): number => {
    const written = band[name];
    if (written === undefined || written === null) {
      if (new RegExp(`role="${name.toLowerCase()}"`).test(text))
        throw refuse(message`its band ${name.toLowerCase()} is damaged: fetch it again`);
      return fallback;
    }
    const value = String(written).trim() === '' ? Number.NaN : Number(written);
    if (!Number.isFinite(value) || (name === 'SCALE' && value === 0))
      throw refuse(
        message`its band ${name.toLowerCase()} is "${String(written).slice(0, 40)}", not a usable number: correct it with gdal_edit`,
      );
    if (!new RegExp(`role="${name.toLowerCase()}"`).test(text))
      throw refuse(
        message`its band ${name.toLowerCase()} is named but not marked as one, which programs read in different ways: rewrite it with gdal_translate`,
      );
    return value;
  };
  return {
    scale: number('SCALE', 1),
    offset: number('OFFSET', 0),
    unit: typeof band.UNITTYPE === 'string' ? band.UNITTYPE : null,
    dtedDatum: typeof whole.DTED_VerticalDatum === 'string' ? whole.DTED_VerticalDatum : null,
  };
}

/** Void number of the file; `declared` without a number is `nan`, which is void in any case. */
export function nodataOf(tags: Tags): Pick<SampleCoding, 'nodata'> & { readonly declared: boolean } {
  const text = tags.text('GDAL_NODATA');
  if (text === null || text === '') return { nodata: null, declared: false };
  if (/^[+-]?nan/i.test(text)) return { nodata: null, declared: true };
  const nodata = Number(text);
  return Number.isFinite(nodata) ? { nodata, declared: true } : { nodata: null, declared: false };
}

/** The header's void number, or where it names none the stated one. */
export function voidNumber(
  header: ReturnType<typeof nodataOf>,
  stated: number | null,
): ReturnType<typeof nodataOf> {
  if (stated === null) return header;
  if (!header.declared) return { nodata: stated, declared: true };
  if (header.nodata === null || Math.fround(header.nodata) === Math.fround(stated)) return header;
  throw refuse(
    message`its header calls ${header.nodata} void, and what lists it says ${stated}: correct one with gdal_edit -a_nodata`,
  );
}
