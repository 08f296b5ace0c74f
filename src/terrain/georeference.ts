import { EngineError } from '../errors.ts';
import { type Message, message } from '../message.ts';
import type { Projection } from './projection.ts';

/** The header's words about place, as they stand; `null` where a tag is missing. */
export interface PlaceTags {
  readonly width: number;
  readonly height: number;
  readonly tiepoint: ArrayLike<number> | null;
  readonly pixelScale: ArrayLike<number> | null;
  readonly transformation: ArrayLike<number> | null;
  /** `GTRasterTypeGeoKey`: 1 area, 2 point. */
  readonly rasterType: number | null;
  /** `null` where the grid is in degrees. */
  readonly projection: Projection | null;
}

export interface GridPlace {
  readonly x0: number;
  readonly y0: number;
  readonly dx: number;
  readonly dy: number;
}

const POINT = 2;

function refuse(what: string | Message): EngineError {
  return new EngineError('dem-georeference', what);
}

/** A tag's value; `NaN`, which no check below lets through, where a damaged header has fewer. */
function tagValue(values: ArrayLike<number>, index: number): number {
  return values[index] ?? Number.NaN;
}

/**
 * Centre of posting (0, 0) and the steps, from a GeoTIFF's tags.
 *
 * [GeoTIFF 1.1] 7.1.2: the tiepoint of a point raster names the sample itself, that of an area raster
 * the corner of the cell, so `x0 = Tx − I·Sx + (point ? 0 : Sx/2)`. A missing key means area, as GDAL reads it.
 * @throws EngineError `dem-georeference`: rotated, control points only, several tiepoints, off the globe.
 */
export function gridPlace(tags: PlaceTags): GridPlace {
  const half = tags.rasterType === POINT ? 0 : 0.5;
  const { tiepoint, pixelScale, transformation } = tags;
  let place: GridPlace;
  if (tiepoint !== null && pixelScale !== null) {
    if (tiepoint.length !== 6)
      throw refuse(
        message`it has ${tiepoint.length / 6} tiepoints where one is read: rewrite it with gdalwarp -t_srs EPSG:4326`,
      );
    const dx = tagValue(pixelScale, 0);
    const dy = -tagValue(pixelScale, 1);
    if (!(dy < 0)) throw refuse('its pixel scale is not positive: rewrite it with gdal_translate');
    place = {
      x0: tagValue(tiepoint, 3) + (half - tagValue(tiepoint, 0)) * dx,
      y0: tagValue(tiepoint, 4) + (half - tagValue(tiepoint, 1)) * dy,
      dx,
      dy,
    };
  } else if (transformation !== null) {
    if (tagValue(transformation, 1) !== 0 || tagValue(transformation, 4) !== 0)
      throw refuse('its grid is rotated or sheared: rewrite it north-up with gdalwarp -t_srs EPSG:4326');
    const dx = tagValue(transformation, 0);
    const dy = tagValue(transformation, 5);
    place = {
      x0: tagValue(transformation, 3) + half * dx,
      y0: tagValue(transformation, 7) + half * dy,
      dx,
      dy,
    };
  } else if (tiepoint !== null && tiepoint.length > 6) {
    throw refuse('it is placed by control points only: rewrite it with gdalwarp -t_srs EPSG:4326');
  } else {
    throw refuse('its header does not say where it lies: take a GeoTIFF with a tiepoint and a pixel scale');
  }
  checkSteps(place);
  if (tags.projection === null) checkOnGlobe(place, tags.width, tags.height);
  else checkOnPlane(place, tags.width, tags.height, tags.projection);
  return place;
}

function checkSteps({ dx, dy }: GridPlace): void {
  if (!(dx > 0) || !(Math.abs(dy) > 0) || !Number.isFinite(dx) || !Number.isFinite(dy))
    throw refuse(
      message`its steps (${dx}, ${dy}) are not a grid that runs east: rewrite it with gdalwarp -t_srs EPSG:4326`,
    );
}

function checkOnGlobe({ x0, y0, dx, dy }: GridPlace, width: number, height: number): void {
  const lastX = x0 + (width - 1) * dx;
  const lastY = y0 + (height - 1) * dy;
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
function checkOnPlane(
  { x0, y0, dx, dy }: GridPlace,
  width: number,
  height: number,
  projection: Projection,
): void {
  const lastX = x0 + (width - 1) * dx;
  const lastY = y0 + (height - 1) * dy;
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
