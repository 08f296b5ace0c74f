import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import type { Note } from '../notes.ts';
import { isObject } from './json-text.ts';
import { cleanName } from './names.ts';
import { nearestName } from './nearest-name.ts';
import { quote } from './quote.ts';
import type { RawTrack } from './raw-track.ts';
import { ATTRIBUTE_NAMES, checkRouteAttributes } from './route-attributes.ts';

type FeatureProperties = Pick<RawTrack, 'name' | 'attributes' | 'notes'>;

const NONE: FeatureProperties = { name: null, attributes: null, notes: [] };

/**
 * Picks the known fields out of a feature's `properties`; everything else is another program's and
 * is neither read nor stored. A name that is nearly a known one gets a note: a closure must not be
 * lost to a typing error.
 * @throws EngineError `bad-attribute`, `name-too-long` or `bad-text`.
 */
export function readProperties(properties: unknown, pointer: string): FeatureProperties {
  if (properties === null || properties === undefined) return NONE;
  if (!isObject(properties)) {
    throw new EngineError('geojson-type', message`The properties at ${pointer} must be an object or null.`, {
      pointer,
    });
  }
  const picked: Record<string, unknown> = {};
  for (const name of ATTRIBUTE_NAMES) {
    if (Object.hasOwn(properties, name)) picked[name] = properties[name];
  }
  const rawName = picked.name;
  const name = typeof rawName === 'string' ? cleanName(rawName, `${pointer}/name`) : null;
  // The schema counts before cleaning; the name has been counted after it.
  if (name !== null) picked.name = name;
  const notes = mistyped(properties, pointer);
  if (Object.keys(picked).length === 0) return { ...NONE, notes };
  return { name, attributes: checkRouteAttributes(picked, pointer), notes };
}

function mistyped(properties: Readonly<Record<string, unknown>>, pointer: string): Note[] {
  const notes: Note[] = [];
  let looked = 0;
  for (const key in properties) {
    if (ATTRIBUTE_NAMES.includes(key)) continue;
    looked += 1;
    // Enough for any table of attributes; a hostile one must not cost time.
    if (looked > 200 || notes.length >= 10) break;
    const near = key.length < 5 ? null : nearestName(key, ATTRIBUTE_NAMES, key.length < 8 ? 1 : 2);
    if (near !== null) {
      notes.push({ code: 'property-not-known', values: { property: quote(key), pointer, near } });
    }
  }
  return notes;
}
