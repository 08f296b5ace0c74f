import { type BoundingBox, geodesicM, nearestTurnDeg } from '../earth/geodesic.ts';
import { localScale } from '../earth/local-scale.ts';
import { type Projection, projectionOfCrs } from './projection.ts';
import type { Heights } from './samples.ts';
import type { Stated } from './stated.ts';
import type { TileInfo } from './surface.ts';

/**
 * Where the postings of a regular grid lie: posting (column, row) stands at
 * `x = x0 + column·dx`, `y = y0 + row·dy`, in the units of the tile's own system: degrees, or metres where it is projected.
 * Everything inside this folder speaks of posting centres, never of pixel corners.
 */
export interface Grid {
  readonly x0: number;
  readonly y0: number;
  /** Always positive. */
  readonly dx: number;
  /** Negative in a north-up file, which nearly all are. */
  readonly dy: number;
  readonly width: number;
  readonly height: number;
}

/** One open elevation file: a grid whose heights are read a block at a time. */
export interface Tile extends Grid {
  readonly info: TileInfo;
  readonly blockWidth: number;
  readonly blockHeight: number;
  /**
   * Heights of one block in metres, row by row, `blockWidth × blockHeight` of them; the unit, scale and
   * offset of the file are already applied. Void postings, and places of an edge block outside the
   * grid, are NaN: inside this typed array only, where `null` cannot stand. Callers turn it into `null`.
   * @throws Error where the bytes cannot be read or decoded; the caller counts the block as void.
   */
  readBlock(blockX: number, blockY: number): Promise<Heights>;
}

/** What a reader knows of a tile besides its grid. */
type TileFacts = Pick<
  TileInfo,
  'path' | 'format' | 'crs' | 'unit' | 'unitAssumed' | 'verticalReference' | 'nodata' | 'version' | 'notes'
>;

/** Where the last posting lies. */
export const lastOf = ({ x0, y0, dx, dy, width, height }: Grid) => ({
  lastX: x0 + (width - 1) * dx,
  lastY: y0 + (height - 1) * dy,
});

/** Points along each side of a projected tile that give its outline (design). */
const OUTLINE_POINTS = 64;

function extentDeg(grid: Grid, projection: Projection | null): BoundingBox {
  const { lastX, lastY } = lastOf(grid);
  if (projection === null)
    return {
      westDeg: grid.x0,
      southDeg: Math.min(grid.y0, lastY),
      eastDeg: lastX,
      northDeg: Math.max(grid.y0, lastY),
    };
  const [middleDeg] = projection.inverse((grid.x0 + lastX) / 2, (grid.y0 + lastY) / 2);
  const outline = Array.from({ length: OUTLINE_POINTS + 1 }, (_, i) => {
    const x = grid.x0 + (i / OUTLINE_POINTS) * (lastX - grid.x0);
    const y = grid.y0 + (i / OUTLINE_POINTS) * (lastY - grid.y0);
    return [
      projection.inverse(x, grid.y0),
      projection.inverse(x, lastY),
      projection.inverse(grid.x0, y),
      projection.inverse(lastX, y),
    ];
  }).flat();
  // A tile may lie across ±180°.
  const lons = outline.map(([lonDeg]) => nearestTurnDeg(lonDeg, middleDeg));
  const lats = outline.map(([, latDeg]) => latDeg);
  return {
    westDeg: Math.min(...lons),
    southDeg: Math.min(...lats),
    eastDeg: Math.max(...lons),
    northDeg: Math.max(...lats),
  };
}

/** The description of a tile in degrees, from its grid, its header's facts and what is stated outside of it. */
export function tileInfo(grid: Grid, facts: TileFacts, { attribution, licence, dateMs }: Stated): TileInfo {
  const projection = projectionOfCrs(facts.crs);
  const extent = extentDeg(grid, projection);
  const latDeg = (extent.southDeg + extent.northDeg) / 2;
  const middle = { lonDeg: (extent.westDeg + extent.eastDeg) / 2, latDeg };
  const step = stepDeg(grid, projection);
  // Stepping towards the equator keeps a tile at the pole on the globe.
  const towardsEquatorDeg = latDeg > 0 ? -step.latDeg : step.latDeg;
  return {
    ...facts,
    attribution,
    licence,
    dateMs,
    ...extent,
    columns: grid.width,
    rows: grid.height,
    stepLonDeg: step.lonDeg,
    stepLatDeg: step.latDeg,
    postingM: Math.max(
      geodesicM(middle, { lonDeg: middle.lonDeg + step.lonDeg, latDeg }),
      geodesicM(middle, { lonDeg: middle.lonDeg, latDeg: latDeg + towardsEquatorDeg }),
    ),
  };
}

/** Posting distance in degrees; of a projected grid at its middle, measured along its own axes. */
function stepDeg(
  grid: Grid,
  projection: Projection | null,
): { readonly lonDeg: number; readonly latDeg: number } {
  if (projection === null) return { lonDeg: grid.dx, latDeg: Math.abs(grid.dy) };
  const x = grid.x0 + ((grid.width - 1) * grid.dx) / 2;
  const y = grid.y0 + ((grid.height - 1) * grid.dy) / 2;
  const at = (px: number, py: number) => {
    const [lonDeg, latDeg] = projection.inverse(px, py);
    return { lonDeg, latDeg };
  };
  const middle = at(x, y);
  const { mPerDegLon, mPerDegLat } = localScale(middle.latDeg);
  return {
    lonDeg: geodesicM(middle, at(x + grid.dx, y)) / mPerDegLon,
    latDeg: geodesicM(middle, at(x, y + grid.dy)) / mPerDegLat,
  };
}

/** How many blocks lie side by side, and how many one above the other. */
export function blockCounts(tile: Tile): { readonly across: number; readonly down: number } {
  return { across: Math.ceil(tile.width / tile.blockWidth), down: Math.ceil(tile.height / tile.blockHeight) };
}
