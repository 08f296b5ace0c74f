import { EngineError } from '../errors.ts';
import { type Message, message } from '../message.ts';
import type { Projection } from './projection.ts';
import { type Grid, lastOf } from './tile.ts';

/** The header's words about place, as they stand; `null` where a tag is missing. */
interface PlaceTags extends Pick<Grid, 'width' | 'height'> {
  readonly tiepoint: ArrayLike<number> | null;
  readonly pixelScale: ArrayLike<number> | null;
  readonly transformation: ArrayLike<number> | null;
  /** `GTRasterTypeGeoKey`: 1 area, 2 point. */
  readonly rasterType: number | null;
  /** `null` where the grid is in degrees. */
  readonly projection: Projection | null;
}

const POINT = 2;

const refuse = (what: string | Message): EngineError => new EngineError('dem-georeference', what);

/** A tag's value; `NaN`, which no check below lets through, where a damaged header has fewer. */
const tagValue = (values: ArrayLike<number>, index: number): number => values[index] ?? Number.NaN;

/**
 * Centre of posting (0, 0) and the steps, from a GeoTIFF's tags.
 *
 * [GeoTIFF 1.1] 7.1.2: the tiepoint of a point raster names the sample itself, that of an area raster
 * the corner of the cell, so `x0 = Tx − I·Sx + (point ? 0 : Sx/2)`. A missing key means area, as GDAL reads it.
 * @throws EngineError `dem-georeference`: rotated, control points only, several tiepoints, off the globe.
 */
export function gridPlace(tags: PlaceTags): Grid {
  const { width, height, projection } = tags;
  const { x, y, column, row, dx, dy } = placement(tags);
  const half = tags.rasterType === POINT ? 0 : 0.5;
  const grid = { x0: x + (half - column) * dx, y0: y + (half - row) * dy, dx, dy, width, height };
  if (!(dx > 0) || !(Math.abs(dy) > 0) || !Number.isFinite(dx) || !Number.isFinite(dy))
    throw refuse(
      message`its steps (${dx}, ${dy}) are not a grid that runs east: rewrite it with gdalwarp -t_srs EPSG:4326`,
    );
  if (projection === null) checkOnGlobe(grid);
  else checkOnPlane(grid, projection);
  return grid;
}

/** A place of the grid, in cells, with where it lies, and the steps. */
function placement({ tiepoint, pixelScale, transformation }: PlaceTags) {
  if (tiepoint !== null && pixelScale !== null) {
    if (tiepoint.length !== 6)
      throw refuse(
        message`it has ${tiepoint.length / 6} tiepoints where one is read: rewrite it with gdalwarp -t_srs EPSG:4326`,
      );
    const value = (index: number): number => tagValue(tiepoint, index);
    const dy = -tagValue(pixelScale, 1);
    if (!(dy < 0)) throw refuse('its pixel scale is not positive: rewrite it with gdal_translate');
    return { x: value(3), y: value(4), column: value(0), row: value(1), dx: tagValue(pixelScale, 0), dy };
  }
  if (transformation !== null) {
    const value = (index: number): number => tagValue(transformation, index);
    if (value(1) !== 0 || value(4) !== 0)
      throw refuse('its grid is rotated or sheared: rewrite it north-up with gdalwarp -t_srs EPSG:4326');
    return { x: value(3), y: value(7), column: 0, row: 0, dx: value(0), dy: value(5) };
  }
  throw refuse(
    tiepoint !== null && tiepoint.length > 6
      ? 'it is placed by control points only: rewrite it with gdalwarp -t_srs EPSG:4326'
      : 'its header does not say where it lies: take a GeoTIFF with a tiepoint and a pixel scale',
  );
}

function checkOnGlobe(grid: Grid): void {
  const { x0, y0, dx, dy } = grid;
  const { lastX, lastY } = lastOf(grid);
  // A global raster may carry one posting more than 360°, and one row over a pole.
  const northMost = Math.max(Math.abs(y0), Math.abs(lastY));
  if (
    !(northMost <= 90 + Math.abs(dy)) ||
    !(Math.abs(x0) <= 540 && Math.abs(lastX) <= 540) ||
    lastX - x0 > 360 + dx
  )
    throw refuse(
      message`its header places it at ${x0}, ${y0} to ${lastX}, ${lastY}, which is not on the globe`,
    );
}

/** A place and back may differ by so much, metres (design: far below a posting, far above rounding). */
const RETURN_M = 0.001;

/** Each corner of the grid must be a place that the projection draws, or the header is wrong about one of the two. */
function checkOnPlane(grid: Grid, projection: Projection): void {
  const { x0, y0 } = grid;
  const { lastX, lastY } = lastOf(grid);
  for (const x of [x0, (x0 + lastX) / 2, lastX]) {
    for (const y of [y0, (y0 + lastY) / 2, lastY]) {
      const [lonDeg, latDeg] = projection.inverse(x, y);
      const [backX, backY] = projection.forward(lonDeg, latDeg);
      if (!(Math.hypot(backX - x, backY - y) <= RETURN_M))
        throw refuse(
          message`its header places it at ${x0}, ${y0} to ${lastX}, ${lastY} m, which its system does not reach`,
        );
    }
  }
}
