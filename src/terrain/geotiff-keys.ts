import { EngineError } from '../errors.ts';
import { type Message, message } from '../message.ts';
import type { Tags } from './geotiff-header.ts';
import { type Projection, projectionOf } from './projection.ts';
import type { TileInfo } from './surface.ts';

/** GeoKeys by geotiff's names. */
export type GeoKeys = Readonly<Record<string, unknown>>;

/** Systems in degrees that are read. NAD83, ETRS89 and WGS 84 differ by 1–2 m on the ground: less than a posting, ignored. */
const GEOGRAPHIC = new Set([4326, 4269, 4258]);
/** Three-dimensional twins of these: heights above the ellipsoid. */
export const GEOGRAPHIC_3D = new Set([4979, 4937, 6319, 4955]);
const DEGREE = 9102;
const METRE = 9001;
const GREENWICH = 8901;
const PROJECTED = 1;
const refuse = (what: string | Message): EngineError => new EngineError('dem-crs', what);
const REMEDY = 'reproject it with gdalwarp -t_srs EPSG:4326';

export function key(keys: GeoKeys, name: string): number | null {
  const value = keys[name];
  return typeof value === 'number' ? value : null;
}

// [GeoTIFF 1.1] 7.1.1: where a key's value may stand.
const INLINE = 0;
const PARAMS: Readonly<Record<number, string>> = { 34736: 'GeoDoubleParams', 34737: 'GeoAsciiParams' };
const ENTRY = 4;
const ASCII_PARAMS = 34737;

/**
 * Refuses a directory of keys that does not hold together ([GeoTIFF 1.1] 7.1.1): geotiff reads what it can of one, other
 * programs read nothing of it, and a grid half a cell off would come out.
 * @throws EngineError `dem-georeference`
 */
export function checkKeyDirectory(tags: Tags): void {
  const directory = tags.numbers('GeoKeyDirectory');
  if (directory === null) return;
  /** `NaN`, which no check below lets through, where the directory is cut short. */
  const entry = (index: number): number => directory[index] ?? Number.NaN;
  const count = entry(3);
  let isWhole = entry(0) === 1 && entry(1) <= 1 && entry(2) <= 1 && directory.length >= ENTRY * (count + 1);
  let last = 0;
  for (let i = ENTRY; isWhole && i < ENTRY * (count + 1); i += ENTRY) {
    const [id, place, length, value] = [entry(i), entry(i + 1), entry(i + 2), entry(i + 3)];
    const params = PARAMS[place];
    isWhole =
      id > last &&
      (place === INLINE
        ? length === 1
        : params !== undefined && // A text's closing NUL is counted by some writers.
          value + length <= tags.length(params) + (place === ASCII_PARAMS ? 1 : 0));
    last = id;
  }
  if (!isWhole)
    throw new EngineError(
      'dem-georeference',
      'its directory of GeoKeys is damaged: fetch it again, or rewrite it with gdal_translate -a_srs',
    );
}

interface System extends Pick<TileInfo, 'crs'> {
  /** `null` where the grid is in degrees. */
  readonly projection: Projection | null;
}

/** @throws EngineError `dem-crs` where the system is not read, `dem-vertical-datum` for heights above the ellipsoid. */
export function readSystem(keys: GeoKeys): System {
  const model = key(keys, 'GTModelTypeGeoKey');
  const geographic = key(keys, 'GeographicTypeGeoKey');
  if (geographic !== null && GEOGRAPHIC_3D.has(geographic))
    throw new EngineError(
      'dem-vertical-datum',
      message`its system (EPSG:${geographic}) has heights above the ellipsoid, not above the sea: take tiles with heights above a geoid`,
    );
  return model === PROJECTED || key(keys, 'ProjectedCSTypeGeoKey') !== null
    ? projectedSystem(keys)
    : geographicSystem(keys, geographic);
}

function projectedSystem(keys: GeoKeys): System {
  const code = key(keys, 'ProjectedCSTypeGeoKey');
  const projection = code === null ? null : projectionOf(code);
  if (projection === null)
    throw refuse(
      message`its projected system (${code === null ? 'not named' : `EPSG:${code}`}) is not read; UTM on WGS 84, NAD83 and ETRS89, EPSG:3857 and EPSG:3035 are: ${REMEDY}`,
    );
  const unit = key(keys, 'ProjLinearUnitsGeoKey') ?? METRE;
  const model = key(keys, 'GTModelTypeGeoKey') ?? PROJECTED;
  if (unit !== METRE || model !== PROJECTED)
    throw refuse(
      message`its header contradicts its system (EPSG:${String(code)}, which is in metres; model ${model}, unit EPSG:${unit}): ${REMEDY}`,
    );
  return { crs: `EPSG:${code}`, projection };
}

function geographicSystem(keys: GeoKeys, geographic: number | null): System {
  if (geographic === null)
    throw refuse(message`its header names no coordinate system: assign one, then ${REMEDY}`);
  const angle = key(keys, 'GeogAngularUnitsGeoKey') ?? DEGREE;
  const meridian = key(keys, 'GeogPrimeMeridianGeoKey') ?? GREENWICH;
  if (!GEOGRAPHIC.has(geographic) || angle !== DEGREE || meridian !== GREENWICH)
    throw refuse(
      message`its system (EPSG:${geographic}) is not one of EPSG:4326, 4269, 4258 in degrees from Greenwich: ${REMEDY}`,
    );
  return { crs: `EPSG:${geographic}`, projection: null };
}
