import { basename } from 'node:path';
import type { Place } from '../earth/geodesic.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { openByteRanges } from './byte-ranges.ts';
import { type BlockCoding, COMPRESSION } from './decode-block.ts';
import { decode } from './decode-pool.ts';
import type { PackedTile } from './packed-hgt.ts';

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

function southWest(file: string): Place {
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
  const { lonDeg, latDeg } = southWest(basename(packed?.name ?? path));
  if (stated.unit !== null && stated.unit !== 'm') {
    throw new EngineError(
      'dem-vertical-datum',
      message`${stated.unitBy ?? 'what lists it'} says its heights are in ${stated.unit}, and an SRTM tile is in metres: put other tiles into another folder`,
    );
  }
  const step = 1 / (side - 1);
  const grid: Grid = { x0: lonDeg, y0: latDeg + 1, dx: step, dy: -step, width: side, height: side };
  const coding: BlockCoding = {
    compression: COMPRESSION.none,
    predictor: 1,
    lercPacking: 0,
    blockWidth: side,
    blockHeight: BLOCK_ROWS,
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
    info: tileInfo(
      grid,
      {
        path,
        version: ranges.version,
        format: 'hgt',
        crs: 'EPSG:4326',
        unit: 'm',
        unitAssumed: false,
        verticalReference: stated.verticalReference ?? 'EGM96',
        nodata: coding.nodata,
        notes: [],
      },
      stated,
    ),
    blockWidth: side,
    blockHeight: BLOCK_ROWS,
    async readBlock(_blockX, blockY) {
      const firstRow = blockY * BLOCK_ROWS;
      const rows = Math.min(BLOCK_ROWS, side - firstRow);
      const bytes = await ranges.read(firstRow * side * BYTES_EACH, rows * side * BYTES_EACH);
      return decode(bytes, coding, { columns: side, rows, rowsHeld: rows });
    },
  };
}
