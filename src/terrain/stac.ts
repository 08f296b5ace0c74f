import { EngineError } from '../errors.ts';
import { isObject } from '../ingest/json-text.ts';
import { cleanText } from '../ingest/names.ts';
import { quote } from '../ingest/quote.ts';
import { message } from '../message.ts';
import { GEOGRAPHIC_3D } from './geotiff-keys.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';
import { unitNamed } from './vertical.ts';
import { type Listed, refuse } from './vrt.ts';

/*
 * A STAC Item or ItemCollection (https://github.com/radiantearth/stac-spec, versions 1.0 and 1.1) read as a list of
 * tiles, with unit, vertical reference, licence and age of their heights. Where a tile lies is told by the tile itself.
 */

/** Items read at most (design: a tile a degree covers the land of the globe with some 26,000). */
const MOST_ITEMS = 30_000;

/** Compound systems whose vertical part says unit and reference (EPSG registry). */
const COMPOUND: ReadonlyMap<number, Pick<Stated, 'unit' | 'verticalReference'>> = new Map([
  [5498, { unit: 'm', verticalReference: 'NAVD88' }],
  [6349, { unit: 'm', verticalReference: 'NAVD88' }],
  [9707, { unit: 'm', verticalReference: 'EGM96' }],
  [9518, { unit: 'm', verticalReference: 'EGM2008' }],
]);
type Fields = Readonly<Record<string, unknown>>;
const fields = (value: unknown): Fields => (isObject(value) ? value : {});
const textOf = (value: unknown): string | null => {
  const text = typeof value === 'string' ? cleanText(value.slice(0, 500), '') : '';
  return text === '' ? null : text;
};

/** The first field of that name on the asset's band, the asset and the item, in this order (STAC 1.1, "common metadata"). */
function nearest(places: readonly Fields[], name: string): unknown {
  return places.find((place) => place[name] !== undefined && place[name] !== null)?.[name];
}

function unitOf(value: unknown): Stated['unit'] {
  if (value === undefined) return null;
  const unit = typeof value === 'string' ? unitNamed(value) : null;
  if (unit === null) throw refuse(message`its heights are in ${quote(String(value))}, which is not read`);
  return unit;
}

function epsgOf(places: readonly Fields[]): number | null {
  const code = nearest(places, 'proj:code');
  const match = typeof code === 'string' ? /^EPSG:(\d{4,6})$/.exec(code) : null;
  if (match !== null) return Number(match[1]);
  const older = nearest(places, 'proj:epsg');
  return typeof older === 'number' ? older : null;
}

/** Words to show for an item: who made and licensed it. Hosts only pass it on. */
function attributionOf(item: Fields, properties: Fields): string[] {
  const stated = textOf(properties.attribution) ?? textOf(item.attribution);
  if (stated !== null) return [stated];
  const providers = Array.isArray(properties.providers) ? properties.providers : [];
  const names = providers
    .map(fields)
    .filter(
      ({ roles }) =>
        !Array.isArray(roles) || roles.some((role) => role === 'licensor' || role === 'producer'),
    )
    .map(({ name }) => textOf(name))
    .filter((name) => name !== null);
  return names.length === 0 ? [] : [`Elevation: ${[...new Set(names)].join(', ')}`];
}

/** The asset that holds the heights: the one called so by its role or key, else the only GeoTIFF. */
function heightAsset(item: Fields, id: string): Fields {
  const assets = Object.entries(fields(item.assets)).map(([key, asset]) => ({ key, asset: fields(asset) }));
  const tiffs = assets.filter(
    ({ asset }) =>
      /^image\/tiff/i.test(String(asset.type ?? '')) || /\.(tiff?|hgt)$/i.test(String(asset.href ?? '')),
  );
  const named = tiffs.filter(
    ({ key, asset }) => key === 'elevation' || (Array.isArray(asset.roles) && asset.roles.includes('data')),
  );
  const [found, second] = tiffs.length === 1 ? tiffs : named;
  if (found === undefined || second !== undefined)
    throw refuse(
      message`its item ${quote(id)} has ${tiffs.length} GeoTIFF assets and does not say which one holds heights: give one the role "data"`,
    );
  return found.asset;
}

function listed(item: Fields, path: string): Listed {
  const id = textOf(item.id) ?? 'without an id';
  const properties = fields(item.properties);
  const asset = heightAsset(item, id);
  const band = fields([asset['raster:bands'], asset.bands].find(Array.isArray)?.[0]);
  const places = [band, asset, properties];
  const written = typeof asset.href === 'string' ? asset.href : '';
  const epsg = epsgOf(places);
  if (epsg !== null && GEOGRAPHIC_3D.has(epsg))
    throw new EngineError(
      'dem-vertical-datum',
      message`its item ${quote(id)} is in EPSG:${epsg}, heights above the ellipsoid: take tiles with heights above a geoid`,
    );
  const compound = epsg === null ? undefined : COMPOUND.get(epsg);
  const unit = unitOf(nearest(places, 'unit')) ?? compound?.unit ?? null;
  const nodata = nearest(places, 'nodata');
  const dateMs = Date.parse(String(properties.datetime ?? properties.end_datetime ?? ''));
  return {
    written,
    stated: {
      ...NOTHING_STATED,
      unit,
      unitBy: unit === null ? null : path,
      verticalReference: compound?.verticalReference ?? null,
      nodata: typeof nodata === 'number' && Number.isFinite(nodata) ? nodata : null,
      attribution: attributionOf(item, properties),
      licence: textOf(properties.license),
      dateMs: Number.isFinite(dateMs) ? dateMs : null,
    },
  };
}

/**
 * The tiles that a STAC Item or ItemCollection lists, with what it states of each.
 * @throws EngineError `dem-catalogue` or `dem-vertical-datum`.
 */
export function tilesOfStac(value: unknown, path: string): Listed[] {
  const root = fields(value);
  const items = root.type === 'FeatureCollection' ? root.features : [root];
  if (
    !Array.isArray(items) ||
    !items.every((item) => isObject(item) && item.type === 'Feature' && isObject(item.assets))
  )
    throw refuse('it is no STAC Item or ItemCollection: features with assets are needed');
  if (items.length === 0) throw refuse('it lists no tile');
  if (items.length > MOST_ITEMS)
    throw refuse(message`it lists ${items.length} tiles; at most ${MOST_ITEMS} are read`);
  return items.map((item) => listed(item, path));
}
