import { XMLParser } from 'fast-xml-parser';
import { EngineError } from '../errors.ts';
import { isObject } from '../ingest/json-text.ts';
import { quote } from '../ingest/quote.ts';
import { walkXml } from '../ingest/xml.ts';
import { type Message, message } from '../message.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';
import { unitNamed } from './vertical.ts';

/*
 * GDAL's VRT read as a list of tiles: https://gdal.org/en/stable/drivers/raster/vrt.html. Only plain sources are taken.
 * Where a tile lies is told by the tile itself: rectangles in the VRT are passed over, except that a source which shows
 * part of a tile, or stretches it, still gives the whole tile as it is.
 */

/** A tile that a catalogue lists: its path or address as written. */
export interface Listed {
  readonly written: string;
  readonly stated: Stated;
}

/** What may stand inside a source without changing heights. */
const HARMLESS = new Set([
  'SourceFilename',
  'OpenOptions',
  'SourceBand',
  'SourceProperties',
  'SrcRect',
  'DstRect',
  'NODATA',
  'ScaleRatio',
  'ScaleOffset',
]);
export const refuse = (what: string | Message): EngineError => new EngineError('dem-catalogue', what);

type Node = Readonly<Record<string, unknown>>;

const one = (node: Node, name: string): unknown => {
  const value = node[name];
  if (!Array.isArray(value)) return value;
  if (value.length > 1) throw refuse(message`it has several ${name} where one is read`);
  return value[0];
};

const childrenOf = (node: Node, name: string): Node[] => {
  const value = node[name];
  const list = Array.isArray(value) ? value : value === undefined ? [] : [value];
  return list.filter(isObject);
};

function textOf(value: unknown): string | null {
  const text = isObject(value) ? value['#text'] : value;
  return typeof text === 'string' && text.trim() !== '' ? text.trim() : null;
}

function numberOf(node: Node, name: string): number | null {
  const text = textOf(one(node, name));
  if (text === null) return null;
  const value = Number(text);
  if (!Number.isFinite(value) && !/^nan$/i.test(text))
    throw refuse(message`its ${name} is ${quote(text)}, not a number`);
  return Number.isNaN(value) ? null : value;
}

function parsed(text: string): Node {
  walkXml(text, {
    root: (name) => {
      if (name !== 'VRTDataset')
        throw refuse(message`its root is ${quote(name)}, not VRTDataset: give a VRT of elevation tiles`);
    },
    open: () => true,
    text: () => undefined,
  });
  try {
    return new XMLParser({
      ignoreAttributes: false,
      attributeNamePrefix: '@',
      parseTagValue: false,
      parseAttributeValue: false,
      ignoreDeclaration: true,
      ignorePiTags: true,
      // For numeric references; names that XML does not know have been refused.
      htmlEntities: true,
    }).parse(text) as Node;
  } catch {
    throw refuse('it cannot be read as a VRT: make it again with gdalbuildvrt');
  }
}

/** The one band of plain sources. */
function bandOf(dataset: Node): Node {
  const kind = dataset['@subClass'];
  if (kind !== undefined)
    throw refuse(
      message`it is a ${quote(String(kind))}, which computes its heights: only plain sources are read; write it to a GeoTIFF with gdal_translate`,
    );
  const bands = [dataset.VRTRasterBand ?? []].flat();
  if (bands.length !== 1) throw refuse(message`it has ${bands.length} bands where one of heights is read`);
  const [band] = childrenOf(dataset, 'VRTRasterBand');
  if (band === undefined) throw refuse('it lists no tile');
  const derived = band['@subClass'];
  if (derived !== undefined || band.PixelFunctionType !== undefined)
    throw refuse(
      message`its band computes its heights (${quote(String(derived ?? 'PixelFunctionType'))}): only plain sources are read`,
    );
  if ((numberOf(band, 'Scale') ?? 1) !== 1 || (numberOf(band, 'Offset') ?? 0) !== 0)
    throw refuse(
      'its band has a Scale or Offset of its own: write it to a GeoTIFF with gdal_translate -unscale',
    );
  for (const name of [
    'KernelFilteredSource',
    'AveragedSource',
    'NoDataFromMaskSource',
    'ArraySource',
    'MaskBand',
  ])
    if (band[name] !== undefined)
      throw refuse(message`it has a ${name}, which is not read: only SimpleSource and ComplexSource are`);
  return band;
}

function listed(source: Node, unit: Stated['unit'], path: string): Listed {
  const odd = Object.keys(source).find(
    (name) => !name.startsWith('@') && name !== '#text' && !HARMLESS.has(name),
  );
  if (odd !== undefined)
    throw refuse(message`a source has a ${quote(odd)}, which changes heights and is not read`);
  const name = one(source, 'SourceFilename');
  const written = textOf(name);
  if (written === null) throw refuse('a source names no file');
  if (isObject(name) && name['@relativeToVRT'] !== '1')
    throw refuse(
      message`it names the tile ${quote(written)} by a path that is not relative to it: make it again with gdalbuildvrt beside the tiles`,
    );
  if ((textOf(one(source, 'SourceBand')) ?? '1') !== '1')
    throw refuse(message`it takes another band than the first of ${quote(written)}`);
  return {
    written,
    stated: {
      ...NOTHING_STATED,
      unit,
      unitBy: unit === null ? null : path,
      nodata: numberOf(source, 'NODATA'),
      scale: numberOf(source, 'ScaleRatio'),
      offset: numberOf(source, 'ScaleOffset'),
    },
  };
}

/**
 * The tiles that a VRT lists, with what it states of each.
 * @throws EngineError `dem-catalogue`, `doctype-not-allowed` or an XML error.
 */
export function tilesOfVrt(text: string, path: string): Listed[] {
  const dataset = parsed(text.replace(/^\uFEFF/, '')).VRTDataset;
  if (!isObject(dataset)) throw refuse('it lists no tile');
  const band = bandOf(dataset);
  const unitText = textOf(one(band, 'UnitType'));
  const unit = unitText === null ? null : unitNamed(unitText);
  if (unitText !== null && unit === null)
    throw refuse(message`its heights are in ${quote(unitText)}, which is not read`);
  const sources = [...childrenOf(band, 'SimpleSource'), ...childrenOf(band, 'ComplexSource')];
  if (sources.length === 0) throw refuse('it lists no tile');
  return sources.map((source) => listed(source, unit, path));
}
