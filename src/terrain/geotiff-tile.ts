import GeoTIFF, { type GeoTIFFImage } from 'geotiff';
import { at } from '../array.ts';
import { EngineError, firstLine } from '../errors.ts';
import { message } from '../message.ts';
import { noteIf } from '../notes.ts';
import { type ByteRanges, openByteRanges } from './byte-ranges.ts';
import type { BlockCoding, BlockExtent } from './decode-block.ts';
import { decode } from './decode-pool.ts';
import { gridPlace } from './georeference.ts';
import {
  type BandFacts,
  bandFacts,
  checkOneBand,
  layoutOf,
  MASK_BIT,
  nodataOf,
  packingOf,
  refuse,
  sampleKind,
  sizeOf,
  type Tags,
  voidNumber,
} from './geotiff-header.ts';
import { checkKeyDirectory, type GeoKeys, key, readSystem } from './geotiff-keys.ts';
import { type Heights, HIGHEST_GROUND_M, LOWEST_GROUND_M, voidHeights } from './samples.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';
import { checkDirectory } from './tiff-directory.ts';
import { type Tile, tileInfo } from './tile.ts';
import { heightMeaning, M_PER_HEIGHT_UNIT } from './vertical.ts';

/*
 * The only file that knows geotiff. From the library: the directory of tags, and nothing else. What 3.0.5 gets wrong or
 * leaves out is done here and in the files beside it, and pinned by tests: the half cell of PixelIsPoint, nodata, scale
 * and offset, sparse blocks (it fills them with 0), block tables of big-endian files (read as little-endian unless the
 * parser is eager), predictor 2 of big-endian files, PackBits' empty run, LZW at a twentieth of the speed.
 */

const MOST_DIRECTORIES = 64;
// No packing makes noise longer than this: LZW grows by half, the others by less (design).
const PACKED_GROWTH = 2;
const PACKED_EXTRA = 65_536;

const because = (error: unknown): string => firstLine(error).slice(0, 200);

/** The tags of one image, by geotiff's names, typed at the door. */
function tagReader(image: GeoTIFFImage): Tags {
  const value = (name: string): unknown => {
    try {
      return image.fileDirectory.getValue(name as 'ImageWidth');
    } catch (error) {
      throw refuse(message`its tag ${name} cannot be read (${because(error)})`);
    }
  };
  return {
    number(name: string): number | null {
      const found = value(name) ?? null;
      if (found === null) return null;
      const one = Number(typeof found === 'object' ? (found as ArrayLike<unknown>)[0] : found);
      if (!Number.isFinite(one)) throw refuse(message`its tag ${name} is not a number`);
      return one;
    },
    numbers(name: string): ArrayLike<number> | null {
      const found = value(name) ?? null;
      if (found === null) return null;
      return typeof found === 'object' ? (found as ArrayLike<number>) : [Number(found)];
    },
    text(name: string): string | null {
      const found = value(name);
      return typeof found === 'string' ? found.replace(/\0+$/, '').trim() : null;
    },
    length(name: string): number {
      const found = value(name) ?? null;
      if (found === null) return 0;
      if (typeof found === 'string') return found.split('\0', 1)[0]?.length ?? 0;
      return typeof found === 'number' ? 1 : (found as ArrayLike<unknown>).length;
    },
  };
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
    const part = async (slice: { readonly offset: number; readonly length: number }) => ({
      ...slice,
      data: await ranges.read(slice.offset, slice.length),
    });
    const tiff = await GeoTIFF.fromSource({
      fileSize: ranges.fileSize,
      fetch: async (slices) => (await Promise.all(slices.map(part))).map(({ data }) => data),
      fetchSlice: part,
      close: async () => {},
    });
    // Eager, or 3.0.5 reads the block table of a big-endian file as little-endian (DeferredArray).
    tiff.parser.eager = true;
    const image = await tiff.getImage(0);
    return { tiff, image, keys: image.getGeoKeys() ?? {} };
  } catch (error) {
    if (error instanceof EngineError) throw error;
    throw refuse(
      message`it cannot be read as a TIFF (${because(error)}): cut short or damaged; fetch it again`,
    );
  }
}

/**
 * A GeoTIFF of heights: strips or tiles, classic or BigTIFF, uncompressed, LZW, DEFLATE, PackBits, ZSTD or LERC, in
 * degrees or in a projection that is read; one block is decoded here already, so that a file that cannot be read is refused now.
 * @throws EngineError `dem-unreadable`, `dem-georeference`, `dem-crs` or `dem-vertical-datum`, saying why.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one check of a header after another, then the tile
export async function openGeotiffTile(
  path: string,
  stated: Stated = NOTHING_STATED,
  given: ByteRanges | null = null,
): Promise<Tile> {
  const ranges = given ?? (await openByteRanges(path));
  await checkDirectory(ranges);
  const { tiff, image, keys } = await openDirectory(ranges);
  const tags = tagReader(image);
  checkOneBand(tags);
  checkKeyDirectory(tags);
  const { crs, projection } = readSystem(keys);
  const { width, height } = sizeOf(tags);
  const grid = gridPlace({
    width,
    height,
    tiepoint: tags.numbers('ModelTiepoint'),
    pixelScale: tags.numbers('ModelPixelScale'),
    transformation: tags.numbers('ModelTransformation'),
    rasterType: key(keys, 'GTRasterTypeGeoKey'),
    projection,
  });
  const sample = sampleKind(tags);
  const packing = packingOf(tags, sample.kind, image.littleEndian);
  const { tiled, blockWidth, blockHeight, across, offsets, counts } = layoutOf(tags, width, height);
  const band = await readBand(tiff, image, tags);
  const citation = keys.VerticalCitationGeoKey;
  const meaning = heightMeaning(
    {
      ...band,
      verticalCode: key(keys, 'VerticalCSTypeGeoKey'),
      verticalUnits: key(keys, 'VerticalUnitsGeoKey'),
      citation: typeof citation === 'string' ? citation : null,
    },
    stated,
  );
  const { nodata, declared } = voidNumber(nodataOf(tags), stated.nodata);
  const coding: BlockCoding = {
    ...sample,
    ...packing,
    blockWidth,
    blockHeight,
    littleEndian: image.littleEndian,
    nodata,
    usualVoids: !declared,
    scale: stated.scale ?? band.scale,
    offset: stated.offset ?? band.offset,
    mPerUnit: M_PER_HEIGHT_UNIT[meaning.unit],
  };

  const blocks = across * Math.ceil(height / blockHeight);
  const mostPacked = PACKED_GROWTH * blockWidth * blockHeight * (coding.bits / 8) + PACKED_EXTRA;
  const isSparse = (block: number): boolean => !at(offsets, block) || !at(counts, block);

  async function readHeightsOf(block: number): Promise<Heights> {
    const rows = Math.min(blockHeight, height - Math.floor(block / across) * blockHeight);
    const extent: BlockExtent = {
      columns: Math.min(blockWidth, width - (block % across) * blockWidth),
      rows,
      // A strip at the end may hold its own rows only; a tile is always whole.
      rowsHeld: tiled ? blockHeight : rows,
    };
    const [offset, count] = [Number(offsets[block]), Number(counts[block])];
    if (count > mostPacked) throw new Error(`the block claims ${count} bytes, more than it can hold`);
    if (offset + count > ranges.fileSize) throw new Error('the block lies beyond the end of the file');
    return decode(await ranges.read(offset, count), coding, extent);
  }

  const written = Array.from({ length: blocks }, (_, block) => block).filter((block) => !isSparse(block));
  const endOf = (block: number): number => Number(offsets[block]) + Number(counts[block]);
  const beyond = written.filter((block) => endOf(block) > ranges.fileSize).length;
  if (written.length > 0) await checkDecodes(written, readHeightsOf);
  const range = { lowestM: LOWEST_GROUND_M, highestM: HIGHEST_GROUND_M };
  const notes = [
    ...meaning.notes,
    ...noteIf(!declared, { code: 'dem-nodata-undeclared', values: range }),
    ...noteIf(written.length === 0, { code: 'dem-empty', values: {} }),
    ...noteIf(beyond > 0, { code: 'dem-truncated', values: { count: beyond, blocks } }),
  ];

  return {
    ...grid,
    info: tileInfo(
      grid,
      {
        path,
        version: ranges.version,
        format: 'geotiff',
        crs,
        unit: meaning.unit,
        unitAssumed: meaning.unitAssumed,
        verticalReference: meaning.reference,
        nodata,
        notes,
      },
      stated,
    ),
    blockWidth,
    blockHeight,
    async readBlock(blockX, blockY) {
      const block = blockY * across + blockX;
      // A block that was never written: geotiff would give 0 m, which is a height.
      return isSparse(block) ? voidHeights(coding, blockWidth * blockHeight) : readHeightsOf(block);
    },
  };
}

/** What the metadata say of the band; refuses voids in a mask of their own. */
async function readBand(tiff: GeoTIFF, image: GeoTIFFImage, tags: Tags): Promise<BandFacts> {
  try {
    const facts = bandFacts(
      tags.text('GDAL_METADATA') ?? '',
      (await image.getGDALMetadata(0)) ?? {},
      (await image.getGDALMetadata()) ?? {},
    );
    if (await hasMask(tiff, image))
      throw refuse(
        'its voids stand in a mask band, which is not read: rewrite it with gdal_translate -mask none -a_nodata',
      );
    return facts;
  } catch (error) {
    throw error instanceof EngineError
      ? error
      : refuse(message`its directory cannot be read to the end (${because(error)}): fetch it again`);
  }
}

/** One block that decodes is enough: single bad blocks are void later, a file that never decodes is refused. */
async function checkDecodes(
  written: readonly number[],
  read: (block: number) => Promise<unknown>,
): Promise<void> {
  const tried = new Set([written[0], written[Math.floor(written.length / 2)], written.at(-1)]);
  let reason = '';
  for (const block of tried) {
    if (block === undefined) continue;
    try {
      await read(block);
      return;
    } catch (error) {
      if (error instanceof EngineError) throw error;
      reason ||= because(error);
    }
  }
  throw refuse(
    message`none of its blocks can be decoded (${reason}): fetch it again, or rewrite it with gdal_translate -co COMPRESS=DEFLATE`,
  );
}
