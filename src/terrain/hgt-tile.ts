import { basename } from 'node:path';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { openByteRanges } from './byte-ranges.ts';
import type { PackedTile } from './packed-hgt.ts';
import { readHeights, type SampleCoding } from './samples.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';
import { type Grid, type Tile, tileInfo } from './tile.ts';

/** Postings along one edge of an SRTM tile: 3″ and 1″ (NASA SRTM, "SRTM_Topo.pdf"). */
const SIDES = [1201, 3601] as const;
const BYTES_EACH = 2;
const NODATA = -32768;
// Rows of a block: one read of 77 to 230 kB (design).
const BLOCK_ROWS = 32;

// `N44W072.hgt`, also `N44W072.SRTMGL1.hgt`: the south-west posting.
const NAME = /^([NS])(\d{2})([EW])(\d{3})([._].*)?\.hgt$/i;

function southWest(file: string): { readonly lonDeg: number; readonly latDeg: number } {
  const match = NAME.exec(file);
  const [, ns = '', latText = '', ew = '', lonText = ''] = match ?? [];
  const latDeg = Number(latText) * (ns.toUpperCase() === 'S' ? -1 : 1);
  const lonDeg = Number(lonText) * (ew.toUpperCase() === 'W' ? -1 : 1);
  if (match === null || latDeg < -90 || latDeg > 89 || lonDeg < -180 || lonDeg > 179) {
    throw new EngineError(
      'dem-georeference',
      message`the name of an SRTM tile must give its south-west corner, as N44W072.hgt does; "${file}" does not: rename it`,
    );
  }
  return { lonDeg, latDeg };
}

function sideOf(fileSize: number): number {
  const side = SIDES.find((s) => s * s * BYTES_EACH === fileSize);
  if (side === undefined) {
    throw new EngineError(
      'dem-unreadable',
      message`the file has ${fileSize} bytes where an SRTM tile has 2884802 (1201²) or 25934402 (3601²): cut short, or another kind of file; fetch it again`,
      { found: fileSize },
    );
  }
  return side;
}

/** What the format fixes, since there is no header. */
const REFERENCE = 'EGM96';

/**
 * An SRTM tile: headerless big-endian int16 metres above the EGM96 geoid, named for its south-west corner.
 * @param packed the tile inside an archive; left out, the file itself.
 * @throws EngineError `dem-unreadable` (wrong size), `dem-georeference` (name without a corner) or
 * `dem-vertical-datum` (another unit is stated than the format has).
 */
export async function openHgtTile(
  path: string,
  packed: PackedTile | null = null,
  stated: Stated = NOTHING_STATED,
): Promise<Tile> {
  const ranges = packed?.ranges ?? (await openByteRanges(path));
  const side = sideOf(ranges.fileSize);
  const corner = southWest(basename(packed?.name ?? path));
  if (stated.unit !== null && stated.unit !== 'm') {
    throw new EngineError(
      'dem-vertical-datum',
      message`${stated.unitBy ?? 'what lists it'} says its heights are in ${stated.unit}, and an SRTM tile is in metres: put other tiles into another folder`,
    );
  }
  const step = 1 / (side - 1);
  const grid: Grid = {
    x0: corner.lonDeg,
    y0: corner.latDeg + 1,
    dx: step,
    dy: -step,
    width: side,
    height: side,
  };
  const coding: SampleCoding = {
    kind: 'int',
    bits: 16,
    littleEndian: false,
    nodata: stated.nodata ?? NODATA,
    usualVoids: false,
    scale: stated.scale ?? 1,
    offset: stated.offset ?? 0,
    mPerUnit: 1,
  };
  return {
    ...grid,
    info: tileInfo(grid, {
      path,
      version: ranges.version,
      format: 'hgt',
      crs: 'EPSG:4326',
      unit: 'm',
      unitAssumed: false,
      verticalReference: stated.verticalReference ?? REFERENCE,
      nodata: coding.nodata,
      notes: [],
    }),
    blockWidth: side,
    blockHeight: BLOCK_ROWS,
    async readBlock(_blockX, blockY) {
      const firstRow = blockY * BLOCK_ROWS;
      const count = Math.min(BLOCK_ROWS, side - firstRow) * side;
      const bytes = await ranges.read(firstRow * side * BYTES_EACH, count * BYTES_EACH);
      const heights = new Float64Array(BLOCK_ROWS * side).fill(Number.NaN);
      readHeights(bytes, 0, count, coding, heights, 0);
      return heights;
    },
  };
}
