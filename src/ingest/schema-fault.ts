import type { Departure, Found, Wanted } from '../message.ts';
import { isObject, pointerStep } from './json-text.ts';
import { nearestName } from './nearest-name.ts';

/** Something wrong with a value: where, and what. */
export interface SchemaFault {
  readonly pointer: string;
  readonly departure: Departure;
  readonly limit?: number;
  readonly found?: number;
}

/** What a schema says of a text instead of `description` where somebody fills in a form. */
const IN_FORM = Symbol('in a form');

/** The description of a text that a file has in quotes and a form has not. */
export const inQuotes = (what: string, examples: string) => ({
  description: `${what} in quotes such as ${examples}`,
  [IN_FORM]: `${what} such as ${examples}`,
});

type Schema = Readonly<Record<string | symbol, unknown>>;
type Faults = Generator<SchemaFault, void>;

/** The first place where a JSON value departs from a schema, or `null`. */
export function schemaFault(schema: object, value: unknown, pointer: string): SchemaFault | null {
  const [first = null] = schemaFaults(schema, value, pointer);
  return first;
}

/**
 * The places where a JSON value departs from a schema, one after the other. Unknown fields come
 * first: a mistyped name explains more than the field it leaves missing. `description` of a schema,
 * where given, says what is wanted.
 *
 * Own code, because the validator's own list answers an optional field with four errors and walks
 * the whole of a hostile value (2 s for 10 MB); this one goes no further than it is read. Knows the
 * keywords that the schemas here use; a test holds it to the compiled validator.
 */
export function* schemaFaults(schema: object, value: unknown, pointer: string): Faults {
  const s = schema as Schema;
  if (Array.isArray(s.anyOf)) yield* unionFaults(s, s.anyOf, value, pointer);
  else if (Object.hasOwn(s, 'const')) {
    if (value !== s.const) yield wrong(pointer, { a: 'constant', values: [s.const] }, value);
  } else if (s.type === 'object') yield* objectFaults(s, value, pointer);
  else if (s.type === 'array') yield* arrayFaults(s, value, pointer);
  else if (s.type === 'string') yield* stringFaults(s, value, pointer);
  else if (s.type === 'number' || s.type === 'integer') yield* numberFaults(s, value, pointer);
  else if (s.type === 'boolean') {
    if (typeof value !== 'boolean') yield wrong(pointer, { a: 'boolean' }, value);
  } else if (s.type === 'null') {
    if (value !== null) yield wrong(pointer, { a: 'null' }, value);
  } else throw new RangeError(`schema keyword not known at ${pointer}`);
}

/** Of a value that is none of the members, the faults that the first finds. */
function* unionFaults(schema: Schema, members: readonly unknown[], value: unknown, pointer: string): Faults {
  if (value === null && members.some((member) => isObject(member) && member.type === 'null')) return;
  const rest = members.filter((member): member is Schema => isObject(member) && member.type !== 'null');
  const constants = rest.filter((member) => Object.hasOwn(member, 'const')).map((member) => member.const);
  if (constants.length === rest.length && constants.length > 1) {
    if (constants.includes(value)) return;
    yield wrong(pointer, { a: 'constant', values: constants }, value);
    return;
  }
  const [first, ...others] = rest;
  if (first === undefined) yield wrong(pointer, described(schema, 'null'), value);
  else if (others.every((member) => schemaFault(member, value, pointer) !== null))
    yield* schemaFaults(first, value, pointer);
}

function* objectFaults(schema: Schema, value: unknown, pointer: string): Faults {
  if (!isObject(value)) {
    yield wrong(pointer, described(schema, 'object'), value);
    return;
  }
  const properties = schema.properties as Readonly<Record<string, object>>;
  const known = Object.keys(properties);
  const meant = new Set<string>();
  if (schema.additionalProperties === false) {
    for (const key in value) {
      if (Object.hasOwn(properties, key) || !Object.hasOwn(value, key)) continue;
      const near = nearestName(key, known);
      if (near !== null) meant.add(near);
      yield { pointer: pointer + pointerStep(key), departure: { departs: 'unknown', near, known } };
    }
  }
  const required = Array.isArray(schema.required) ? (schema.required as readonly string[]) : [];
  for (const [key, property] of Object.entries(properties)) {
    const inner = pointer + pointerStep(key);
    if (Object.hasOwn(value, key) && value[key] !== undefined)
      yield* schemaFaults(property, value[key], inner);
    else if (required.includes(key) && !meant.has(key))
      yield { pointer: inner, departure: { departs: 'missing' } };
  }
}

function* arrayFaults(schema: Schema, value: unknown, pointer: string): Faults {
  const { minItems, maxItems } = schema;
  if (!Array.isArray(value)) {
    yield wrong(pointer, described(schema, 'list'), value);
  } else if (typeof maxItems === 'number' && value.length > maxItems) {
    yield counted(pointer, 'tooMany', maxItems, value.length);
  } else if (typeof minItems === 'number' && value.length < minItems) {
    yield counted(pointer, 'tooFew', minItems, value.length);
  } else {
    for (const [i, item] of value.entries())
      yield* schemaFaults(schema.items as object, item, pointer + pointerStep(i));
    if (schema.uniqueItems === true) yield* repeated(value, pointer);
  }
}

function* repeated(items: readonly unknown[], pointer: string): Faults {
  const seen = new Set<unknown>();
  for (const [i, item] of items.entries()) {
    if (seen.has(item))
      yield { pointer: pointer + pointerStep(i), departure: { departs: 'repeated', found: foundIn(item) } };
    seen.add(item);
  }
}

function* stringFaults(schema: Schema, value: unknown, pointer: string): Faults {
  const { minLength, maxLength, pattern } = schema;
  const wanted = described(schema, 'text');
  if (typeof value !== 'string') {
    yield wrong(pointer, wanted, value);
    return;
  }
  const length = [...value.slice(0, 20_000)].length;
  if (typeof maxLength === 'number' && length > maxLength) {
    yield counted(pointer, 'tooLong', maxLength, length);
    return;
  }
  const tooShort = typeof minLength === 'number' && length < minLength;
  if (tooShort || (typeof pattern === 'string' && !new RegExp(pattern, 'u').test(value)))
    yield wrong(pointer, wanted, value);
}

function* numberFaults(schema: Schema, value: unknown, pointer: string): Faults {
  const { minimum, maximum } = schema;
  const whole = schema.type === 'integer';
  const [from, to] = [minimum, maximum].map((end) => (typeof end === 'number' ? end : null));
  const fault = () => wrong(pointer, { a: 'number', whole, from: from ?? null, to: to ?? null }, value);
  if (typeof value !== 'number' || !Number.isFinite(value)) yield fault();
  else if (whole && !Number.isInteger(value)) yield { ...fault(), found: value };
  else if (typeof minimum === 'number' && value < minimum) yield { ...fault(), limit: minimum, found: value };
  else if (typeof maximum === 'number' && value > maximum) yield { ...fault(), limit: maximum, found: value };
}

function described(schema: Schema, otherwise: 'text' | 'null' | 'object' | 'list'): Wanted {
  const { description, [IN_FORM]: inForm } = schema;
  if (typeof description !== 'string') return { a: otherwise };
  return { a: 'described', as: description, inForm: typeof inForm === 'string' ? inForm : description };
}

const wrong = (pointer: string, wanted: Wanted, value: unknown): SchemaFault => ({
  pointer,
  departure: { departs: 'wrong', wanted, found: foundIn(value) },
});

const counted = (
  pointer: string,
  departs: 'tooLong' | 'tooMany' | 'tooFew',
  limit: number,
  found: number,
): SchemaFault => ({ pointer, departure: { departs, limit, found }, limit, found });

/** Of a long text a piece, which is more than is shown of it. */
function foundIn(value: unknown): Found {
  if (typeof value === 'string') return value.slice(0, 100);
  if (typeof value === 'number' || typeof value === 'boolean' || value === null) return value;
  return { kind: Array.isArray(value) ? 'list' : 'object' };
}
