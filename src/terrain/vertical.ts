import { EngineError } from '../errors.ts';
import { type Message, message } from '../message.ts';
import { type Note, noteIf } from '../notes.ts';
import { M_PER_FT, M_PER_US_SURVEY_FT } from '../units.ts';
import type { BandFacts } from './geotiff-header.ts';
import { NOTHING_STATED, type Stated } from './stated.ts';
import type { TileInfo } from './surface.ts';

type Unit = TileInfo['unit'];

export const M_PER_HEIGHT_UNIT: Readonly<Record<Unit, number>> = {
  m: 1,
  ft: M_PER_FT,
  ftUS: M_PER_US_SURVEY_FT,
};

/** The header's words about heights, as they stand; `null` where missing. */
interface HeightTags extends Pick<BandFacts, 'unit' | 'dtedDatum'> {
  /** `VerticalGeoKey` 4096. */
  readonly verticalCode: number | null;
  /** `VerticalUnitsGeoKey` 4099. */
  readonly verticalUnits: number | null;
  /** `VerticalCitationGeoKey` 4097. */
  readonly citation: string | null;
}

interface HeightMeaning {
  readonly unit: Unit;
  readonly unitAssumed: boolean;
  readonly reference: string | null;
  readonly notes: readonly Note[];
}

// EPSG registry, vertical systems: GDAL writes only the code, so the unit must come from it.
const KNOWN: ReadonlyMap<number, { readonly name: string; readonly unit: Unit }> = new Map([
  [5703, { name: 'NAVD88', unit: 'm' }],
  [6360, { name: 'NAVD88', unit: 'ftUS' }],
  [8228, { name: 'NAVD88', unit: 'ft' }],
  [5702, { name: 'NGVD29', unit: 'ftUS' }],
  [7968, { name: 'NGVD29', unit: 'm' }],
  [5773, { name: 'EGM96', unit: 'm' }],
  [5798, { name: 'EGM84', unit: 'm' }],
  [3855, { name: 'EGM2008', unit: 'm' }],
  [5714, { name: 'mean sea level', unit: 'm' }],
  [5621, { name: 'EVRF2007', unit: 'm' }],
  [5730, { name: 'EVRF2000', unit: 'm' }],
  [5713, { name: 'CGVD28', unit: 'm' }],
  [6647, { name: 'CGVD2013', unit: 'm' }],
]);

// Positive down: a height read from these would be upside down.
const DEPTHS = new Set([5715, 6357, 6358, 8051, 8053]);
// [GeoTIFF 1.0] annex 6.3.4.1: 5001 to 5035 are heights above an ellipsoid; 4979 is WGS 84 in three dimensions.
const isEllipsoidal = (code: number): boolean => (code >= 5001 && code <= 5035) || code === 4979;

const UNIT_CODES: ReadonlyMap<number, Unit> = new Map([
  [9001, 'm'],
  [9002, 'ft'],
  [9003, 'ftUS'],
]);
const UNIT_NAMES: Readonly<Record<Unit, readonly string[]>> = {
  m: ['m', 'metre', 'metres', 'meter', 'meters'],
  ft: ['ft', 'foot', 'feet', 'international foot'],
  ftUS: ['us survey foot', 'us survey feet', 'ftus', 'us-ft', 'foot us', 'sft'],
};
const DTED_DATUMS: ReadonlyMap<string, string> = new Map([
  ['E96', 'EGM96'],
  ['E08', 'EGM2008'],
  ['MSL', 'mean sea level'],
]);

const refuse = (what: string | Message): EngineError => new EngineError('dem-vertical-datum', what);

/** The unit of heights that a header or a catalogue names; `null`: none that is read. */
export function unitNamed(text: string): Unit | null {
  const name = text.trim().toLowerCase().replaceAll('_', ' ');
  return (['m', 'ft', 'ftUS'] as const).find((unit) => UNIT_NAMES[unit].includes(name)) ?? null;
}

/**
 * Unit and vertical reference of a tile's heights: read, not guessed. Nothing is converted but the unit.
 * What is stated outside the file fills what the header leaves open. Metres are assumed, with the note
 * `dem-unit-assumed`, where neither says anything.
 * @throws EngineError `dem-vertical-datum`: heights above the ellipsoid (18 to 52 m off at well-known
 * summits, enough to move treeline), depths, an unknown unit, or units that contradict each other.
 */
export function heightMeaning(
  tags: HeightTags,
  outside: Pick<Stated, 'unit' | 'unitBy' | 'verticalReference'> = NOTHING_STATED,
): HeightMeaning {
  const { verticalCode, verticalUnits, citation, unit: bandUnit } = tags;
  const isNamedEllipsoidal = [citation, outside.verticalReference].some((text) =>
    /ellipsoid/i.test(text ?? ''),
  );
  if ((verticalCode !== null && isEllipsoidal(verticalCode)) || isNamedEllipsoidal)
    throw refuse(
      'its heights are above the ellipsoid, not above the sea: take tiles with heights above a geoid (EGM96, EGM2008, NAVD88)',
    );
  if (verticalCode !== null && DEPTHS.has(verticalCode))
    throw refuse('its vertical system counts depths downwards: take a tile of heights');

  const known = verticalCode === null ? undefined : KNOWN.get(verticalCode);
  const stated: Unit[] = [];
  if (verticalUnits !== null) {
    const unit = UNIT_CODES.get(verticalUnits);
    if (unit === undefined)
      throw refuse(
        message`its vertical unit is EPSG:${verticalUnits}, which is not read: rewrite it in metres`,
      );
    stated.push(unit);
  }
  if (known !== undefined) stated.push(known.unit);
  if (bandUnit !== null && bandUnit.trim() !== '') {
    const unit = unitNamed(bandUnit);
    if (unit === null)
      throw refuse(
        message`its heights are in "${bandUnit.slice(0, 40)}", which is not read: rewrite it in metres`,
      );
    stated.push(unit);
  }

  const unit = stated[0] ?? outside.unit ?? 'm';
  if (outside.unitBy !== null && outside.unit !== unit)
    throw refuse(
      message`its header says its heights are in ${unit}, and ${outside.unitBy} says ${outside.unit ?? 'another'}: correct the wrong one`,
    );
  if (stated.some((other) => other !== unit))
    throw refuse(
      message`its header contradicts itself about the unit of heights (${stated.join(', ')}): correct it with gdal_edit`,
    );

  const dted = tags.dtedDatum?.trim() ?? '';
  const reference =
    known?.name ??
    (citation !== null && citation.trim() !== '' ? citation.trim() : null) ??
    (verticalCode !== null && verticalCode !== 32767 && verticalCode !== 0 ? `EPSG:${verticalCode}` : null) ??
    (dted === '' ? null : (DTED_DATUMS.get(dted) ?? dted)) ??
    outside.verticalReference;
  const unitAssumed = stated.length === 0 && outside.unit === null;
  const notes = noteIf(unitAssumed, { code: 'dem-unit-assumed', values: {} });
  return { unit, unitAssumed, reference, notes };
}
