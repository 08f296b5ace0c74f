import GeoTIFF, { type GeoTIFFImage, getDecoder } from 'geotiff';
import { EngineError, type Note } from '../errors.ts';
import { type ByteRanges, openByteRanges } from './byte-ranges.ts';
import { gridPlace } from './georeference.ts';
import { readHeights, type SampleCoding } from './samples.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';
import { type Grid, type Tile, tileInfo } from './tile.ts';
import { type HeightMeaning, heightMeaning, M_PER_HEIGHT_UNIT } from './vertical.ts';

/*
 * The only file that knows geotiff. From the library: the directory of tags and the decompression. What
 * 3.0.5 gets wrong or leaves out is done here and pinned by tests: the half cell of PixelIsPoint, nodata,
 * scale and offset, sparse blocks (it fills them with 0), block tables of big-endian files (read as
 * little-endian unless the parser is eager), decoded blocks that came out short.
 */

/** Systems in degrees that are read. NAD83, ETRS89 and WGS 84 differ by 1–2 m on the ground: less than a posting, ignored. */
const GEOGRAPHIC = new Set([4326, 4269, 4258]);
// Three-dimensional twins of these: heights above the ellipsoid.
const GEOGRAPHIC_3D = new Set([4979, 4937, 6319, 4955]);
const DEGREE = 9102;
const GREENWICH = 8901;

const COMPRESSIONS: ReadonlyMap<number, string> = new Map([
  [1, 'none'],
  [5, 'LZW'],
  [8, 'DEFLATE'],
  [32946, 'DEFLATE'],
  [32773, 'PackBits'],
  [50000, 'ZSTD'],
]);
const PACKBITS = 32773;
const UNPREDICTED = new Set([1, PACKBITS]);

// Limits on what a header may claim (design): a 1 m national tile is 10,000², USGS 1/3″ is 10,812². A block of 5,792²
// is 256 MiB once decoded; more is refused rather than risking the service.
const LONGEST_SIDE = 1_000_000;
const LARGEST_BLOCK = 32 * 1024 * 1024;
const MOST_DIRECTORIES = 64;

const OVERVIEW_BIT = 1;
const MASK_BIT = 4;

function refuse(what: string): EngineError {
  return new EngineError('dem-unreadable', what);
}

function because(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.split('\n', 1)[0]?.slice(0, 200) ?? '';
}

/** The tags of one image, by geotiff's names, typed at the door. */
function tagReader(image: GeoTIFFImage) {
  const value = (name: string): unknown => {
    try {
      return image.fileDirectory.getValue(name as 'ImageWidth');
    } catch (error) {
      throw refuse(`its tag ${name} cannot be read (${because(error)})`);
    }
  };
  return {
    number(name: string): number | null {
      const found = value(name);
      if (found === undefined || found === null) return null;
      const one = Number(typeof found === 'object' ? (found as ArrayLike<unknown>)[0] : found);
      if (!Number.isFinite(one)) throw refuse(`its tag ${name} is not a number`);
      return one;
    },
    numbers(name: string): ArrayLike<number> | null {
      const found = value(name);
      if (found === undefined || found === null) return null;
      return typeof found === 'object' ? (found as ArrayLike<number>) : [Number(found)];
    },
    text(name: string): string | null {
      const found = value(name);
      return typeof found === 'string' ? found.replace(/\0+$/, '').trim() : null;
    },
  };
}
type Tags = ReturnType<typeof tagReader>;

interface Layout {
  readonly blockWidth: number;
  readonly blockHeight: number;
  readonly across: number;
  readonly offsets: ArrayLike<number>;
  readonly counts: ArrayLike<number>;
}

function size(tags: Tags): { readonly width: number; readonly height: number } {
  const width = tags.number('ImageWidth') ?? 0;
  const height = tags.number('ImageLength') ?? 0;
  if (!(width >= 1 && height >= 1 && width <= LONGEST_SIDE && height <= LONGEST_SIDE))
    throw refuse(
      `its header claims ${width} × ${height} postings, which no tile has (at most ${LONGEST_SIDE} a side): fetch it again`,
    );
  return { width, height };
}

function checkOneBand(tags: Tags): void {
  const bands = tags.number('SamplesPerPixel') ?? 1;
  const photometric = tags.number('PhotometricInterpretation') ?? 1;
  if (photometric > 1)
    throw refuse('it is a picture (colours), not heights: take the elevation file, not its preview');
  if (bands !== 1)
    throw refuse(
      `it has ${bands} bands where heights have one: extract the height band with gdal_translate -b`,
    );
  if ((tags.number('FillOrder') ?? 1) !== 1)
    throw refuse('its bits are written in reverse order: rewrite it with gdal_translate');
}

function layout(image: GeoTIFFImage, tags: Tags, width: number, height: number): Layout {
  const tiled = image.isTiled;
  const blockWidth = tiled ? (tags.number('TileWidth') ?? 0) : width;
  const rows = tiled ? tags.number('TileLength') : tags.number('RowsPerStrip');
  const blockHeight = tiled ? (rows ?? 0) : Math.min(rows ?? height, height);
  if (!(blockWidth >= 1 && blockHeight >= 1 && blockWidth * blockHeight <= LARGEST_BLOCK))
    throw refuse(
      `its header claims blocks of ${blockWidth} × ${blockHeight} postings: rewrite it with gdal_translate -co TILED=YES`,
    );
  const offsets = tags.numbers(tiled ? 'TileOffsets' : 'StripOffsets') ?? [];
  const counts = tags.numbers(tiled ? 'TileByteCounts' : 'StripByteCounts') ?? [];
  const across = Math.ceil(width / blockWidth);
  const blocks = across * Math.ceil(height / blockHeight);
  if (offsets.length < blocks || counts.length < blocks)
    throw refuse(
      `its table of blocks has ${Math.min(offsets.length, counts.length)} entries where ${blocks} are needed: fetch it again`,
    );
  return { blockWidth, blockHeight, across, offsets, counts };
}

function sampleKind(tags: Tags): Pick<SampleCoding, 'kind' | 'bits'> {
  const format = tags.number('SampleFormat') ?? 1;
  const bits = tags.number('BitsPerSample') ?? 1;
  const kind = ({ 1: 'uint', 2: 'int', 3: 'float' } as const)[format];
  if (bits === 8)
    throw refuse('its samples have 8 bits: a picture such as a shaded relief, or too coarse for heights');
  if (kind === undefined || !(bits === 16 || bits === 32 || bits === 64))
    throw refuse(
      `its samples (format ${format}, ${bits} bits) are not read: rewrite it with gdal_translate -ot Float32`,
    );
  if ((kind === 'float') === (bits === 16) || (kind !== 'float' && bits === 64))
    throw refuse(
      `its samples (${bits}-bit ${kind}) are not read: rewrite it with gdal_translate -ot Float32`,
    );
  return { kind, bits };
}

function compressionOf(
  tags: Tags,
  littleEndian: boolean,
): { readonly compression: number; readonly predictor: number } {
  const compression = tags.number('Compression') ?? 1;
  const predictor = tags.number('Predictor') ?? 1;
  if (!COMPRESSIONS.has(compression))
    throw refuse(
      `its compression (${compression}) is not read: rewrite it with gdal_translate -co COMPRESS=DEFLATE`,
    );
  // geotiff 3.0.5 undoes predictors in the machine's byte order, whatever the file's.
  if (predictor !== 1 && !littleEndian)
    throw refuse(
      'it is big-endian with a predictor, which comes out as garbage: rewrite it with gdal_translate -co ENDIANNESS=LITTLE',
    );
  if (predictor !== 1 && (UNPREDICTED.has(compression) || predictor > 3))
    throw refuse(
      `its predictor (${predictor}) does not go with its compression: rewrite it with gdal_translate`,
    );
  return { compression, predictor };
}

type GeoKeys = Readonly<Record<string, unknown>>;

function key(keys: GeoKeys, name: string): number | null {
  const value = keys[name];
  return typeof value === 'number' ? value : null;
}

function readSystem(keys: GeoKeys): string {
  const projected = key(keys, 'ProjectedCSTypeGeoKey');
  const geographic = key(keys, 'GeographicTypeGeoKey');
  const model = key(keys, 'GTModelTypeGeoKey');
  const remedy = 'reproject it with gdalwarp -t_srs EPSG:4326';
  if (projected !== null || model === 1)
    throw new EngineError(
      'dem-crs',
      `it is in a projected system (${projected === null ? 'not named' : `EPSG:${projected}`}), which is not read yet: ${remedy}`,
    );
  if (geographic === null)
    throw new EngineError('dem-crs', `its header names no coordinate system: assign one, then ${remedy}`);
  if (GEOGRAPHIC_3D.has(geographic))
    throw new EngineError(
      'dem-vertical-datum',
      `its system (EPSG:${geographic}) has heights above the ellipsoid, not above the sea: take tiles with heights above a geoid`,
    );
  const angle = key(keys, 'GeogAngularUnitsGeoKey') ?? DEGREE;
  const meridian = key(keys, 'GeogPrimeMeridianGeoKey') ?? GREENWICH;
  if (!GEOGRAPHIC.has(geographic) || angle !== DEGREE || meridian !== GREENWICH)
    throw new EngineError(
      'dem-crs',
      `its system (EPSG:${geographic}) is not one of EPSG:4326, 4269, 4258 in degrees from Greenwich: ${remedy}`,
    );
  return `EPSG:${geographic}`;
}

interface BandFacts {
  readonly scale: number;
  readonly offset: number;
  readonly unit: string | null;
  readonly dtedDatum: string | null;
}

async function bandFacts(image: GeoTIFFImage): Promise<BandFacts> {
  const band = (await image.getGDALMetadata(0)) ?? {};
  const whole = (await image.getGDALMetadata()) ?? {};
  const number = (name: string, fallback: number): number => {
    const text = band[name];
    if (text === undefined || text === null) return fallback;
    const value = String(text).trim() === '' ? Number.NaN : Number(text);
    if (!Number.isFinite(value) || (name === 'SCALE' && value === 0))
      throw refuse(
        `its band ${name.toLowerCase()} is "${String(text).slice(0, 40)}", not a usable number: correct it with gdal_edit`,
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
function nodataOf(tags: Tags): { readonly nodata: number | null; readonly declared: boolean } {
  const text = tags.text('GDAL_NODATA');
  if (text === null || text === '') return { nodata: null, declared: false };
  if (/^[+-]?nan/i.test(text)) return { nodata: null, declared: true };
  const nodata = Number(text);
  return Number.isFinite(nodata) ? { nodata, declared: true } : { nodata: null, declared: false };
}

/** The header's void number, or where it names none the stated one. */
function voidNumber(
  header: ReturnType<typeof nodataOf>,
  stated: number | null,
): { readonly nodata: number | null; readonly declared: boolean } {
  if (stated === null) return header;
  if (!header.declared) return { nodata: stated, declared: true };
  if (header.nodata === null || Math.fround(header.nodata) === Math.fround(stated)) return header;
  throw refuse(
    `its header calls ${header.nodata} void, and what lists it says ${stated}: correct one with gdal_edit -a_nodata`,
  );
}

async function hasMask(tiff: GeoTIFF, first: GeoTIFFImage): Promise<boolean> {
  let next = first.fileDirectory.nextIFDByteOffset;
  for (let index = 1; next !== 0 && index < MOST_DIRECTORIES; index += 1) {
    const image = await tiff.getImage(index);
    if (((tagReader(image).number('NewSubfileType') ?? 0) & MASK_BIT) !== 0) return true;
    next = image.fileDirectory.nextIFDByteOffset;
  }
  return false;
}

interface Opened {
  readonly tiff: GeoTIFF;
  readonly image: GeoTIFFImage;
  readonly keys: GeoKeys;
}

async function openDirectory(ranges: ByteRanges): Promise<Opened> {
  try {
    const tiff = await GeoTIFF.fromSource(ranges);
    // Eager, or 3.0.5 reads the block table of a big-endian file as little-endian (DeferredArray).
    tiff.parser.eager = true;
    const image = await tiff.getImage(0);
    return { tiff, image, keys: image.getGeoKeys() ?? {} };
  } catch (error) {
    if (error instanceof EngineError) throw error;
    throw refuse(`it cannot be read as a TIFF (${because(error)}): cut short or damaged; fetch it again`);
  }
}

/**
 * A GeoTIFF of heights in degrees: strips or tiles, classic or BigTIFF, uncompressed, LZW, DEFLATE,
 * PackBits or ZSTD; one block is decoded here already, so that a file that cannot be read is refused now.
 * @throws EngineError `dem-unreadable`, `dem-georeference`, `dem-crs` or `dem-vertical-datum`, saying why.
 */
export async function openGeotiffTile(
  path: string,
  ranges?: ByteRanges,
  stated: Stated = NOTHING_STATED,
): Promise<Tile> {
  return geotiffTile(path, ranges ?? (await openByteRanges(path)), stated);
}

async function geotiffTile(path: string, ranges: ByteRanges, stated: Stated): Promise<Tile> {
  const { tiff, image, keys } = await openDirectory(ranges);
  const tags = tagReader(image);
  checkOneBand(tags);
  const crs = readSystem(keys);
  const { width, height } = size(tags);
  const grid: Grid = {
    width,
    height,
    ...gridPlace({
      width,
      height,
      tiepoint: tags.numbers('ModelTiepoint'),
      pixelScale: tags.numbers('ModelPixelScale'),
      transformation: tags.numbers('ModelTransformation'),
      rasterType: key(keys, 'GTRasterTypeGeoKey'),
    }),
  };
  const sample = sampleKind(tags);
  const { compression, predictor } = compressionOf(tags, image.littleEndian);
  const { blockWidth, blockHeight, across, offsets, counts } = layout(image, tags, width, height);
  const subfile = tags.number('NewSubfileType') ?? 0;
  if ((subfile & (OVERVIEW_BIT | MASK_BIT)) !== 0)
    throw refuse('its first image is an overview or a mask: rewrite it with gdal_translate');

  let band: BandFacts;
  try {
    band = await bandFacts(image);
    if (await hasMask(tiff, image))
      throw refuse(
        'its voids stand in a mask band, which is not read: rewrite it with gdal_translate -mask none -a_nodata',
      );
  } catch (error) {
    throw error instanceof EngineError
      ? error
      : refuse(`its directory cannot be read to the end (${because(error)}): fetch it again`);
  }
  const citation = keys.VerticalCitationGeoKey;
  const meaning: HeightMeaning = heightMeaning(
    {
      verticalCode: key(keys, 'VerticalCSTypeGeoKey'),
      verticalUnits: key(keys, 'VerticalUnitsGeoKey'),
      citation: typeof citation === 'string' ? citation : null,
      bandUnit: band.unit,
      dtedDatum: band.dtedDatum,
    },
    stated,
  );
  const { nodata, declared } = voidNumber(nodataOf(tags), stated.nodata);
  const coding: SampleCoding = {
    ...sample,
    littleEndian: image.littleEndian,
    nodata,
    usualVoids: !declared,
    scale: stated.scale ?? band.scale,
    offset: stated.offset ?? band.offset,
    mPerUnit: M_PER_HEIGHT_UNIT[meaning.unit],
  };

  const decoder = await getDecoder(compression, {
    tileWidth: blockWidth,
    tileHeight: blockHeight,
    planarConfiguration: image.planarConfiguration,
    bitsPerSample: [coding.bits],
    predictor,
  }).catch((error: unknown) => {
    throw refuse(
      `its compression (${COMPRESSIONS.get(compression)}) cannot be read here (${because(error)})`,
    );
  });

  const blocks = across * Math.ceil(height / blockHeight);
  const bytesEach = coding.bits / 8;
  const isSparse = (block: number): boolean => !(offsets[block] ?? 0) || !(counts[block] ?? 0);
  const rowsIn = (block: number): number =>
    Math.min(blockHeight, height - Math.floor(block / across) * blockHeight);

  async function readRaw(block: number): Promise<ArrayBuffer> {
    const raw = await ranges.read(Number(offsets[block]), Number(counts[block]));
    const decoded = await decoder.decode(raw);
    // A strip at the end may hold its own rows only; a tile is always whole.
    const rows = image.isTiled ? blockHeight : rowsIn(block);
    const least = blockWidth * rows * bytesEach;
    const whole = blockWidth * blockHeight * bytesEach;
    const length = decoded.byteLength;
    // PackBits that does not come out exact was misread: 3.0.5 takes the "no operation" byte for a run.
    if (length < least || (compression === PACKBITS && length !== least && length !== whole))
      throw new Error(`the block decodes to ${length} bytes where ${least} are needed`);
    return decoded as ArrayBuffer;
  }

  const notes: Note[] = [...meaning.notes];
  if (!declared)
    notes.push({
      code: 'dem-nodata-undeclared',
      text: 'The header names no void number: the usual ones (−32768, −32767, −9999, −99999, −999999, 32767, 65535) count as void, and so do heights below −500 m or above 9,000 m.',
    });
  const written = Array.from({ length: blocks }, (_, block) => block).filter((block) => !isSparse(block));
  const beyond = written.filter(
    (block) => Number(offsets[block]) + Number(counts[block]) > ranges.fileSize,
  ).length;
  if (written.length === 0)
    notes.push({ code: 'dem-empty', text: 'No block of the file holds data: all of it is void.' });
  else await checkDecodes(written, readRaw);
  if (beyond > 0)
    notes.push({
      code: 'dem-truncated',
      text: `${beyond} of ${blocks} blocks lie beyond the end of the file, which was cut short: their heights are void. Fetch it again.`,
    });

  return {
    ...grid,
    info: tileInfo(grid, {
      path,
      version: ranges.version,
      format: 'geotiff',
      crs,
      unit: meaning.unit,
      unitAssumed: meaning.unitAssumed,
      verticalReference: meaning.reference,
      nodata,
      notes,
    }),
    blockWidth,
    blockHeight,
    async readBlock(blockX, blockY) {
      const heights = new Float64Array(blockWidth * blockHeight).fill(Number.NaN);
      const block = blockY * across + blockX;
      // A block that was never written: geotiff would give 0 m, which is a height.
      if (isSparse(block)) return heights;
      const raw = await readRaw(block);
      const columns = Math.min(blockWidth, width - blockX * blockWidth);
      for (let row = 0; row < rowsIn(block); row += 1)
        readHeights(raw, row * blockWidth, columns, coding, heights, row * blockWidth);
      return heights;
    },
  };
}

/** One block that decodes is enough: single bad blocks are void later, a file that never decodes is refused. */
async function checkDecodes(
  written: readonly number[],
  readRaw: (block: number) => Promise<unknown>,
): Promise<void> {
  const tried = new Set([written[0], written[Math.floor(written.length / 2)], written.at(-1)]);
  let reason = '';
  for (const block of tried) {
    if (block === undefined) continue;
    try {
      await readRaw(block);
      return;
    } catch (error) {
      if (error instanceof EngineError) throw error;
      reason ||= because(error);
    }
  }
  throw refuse(
    `none of its blocks can be decoded (${reason}): fetch it again, or rewrite it with gdal_translate -co COMPRESS=DEFLATE`,
  );
}
