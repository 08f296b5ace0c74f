import { isObject, pointerStep } from './json-text.ts';
import { nearestName } from './nearest-name.ts';
import { quote } from './quote.ts';

/** Something wrong with a value: where, and the rest of the sentence "… must be …". */
export interface SchemaFault {
  readonly pointer: string;
  readonly text: string;
  readonly limit?: number;
  readonly found?: number;
}

type Schema = Readonly<Record<string, unknown>>;
type Faults = Generator<SchemaFault, void>;

/** The first place where a JSON value departs from a schema, or `null`. */
export function schemaFault(schema: object, value: unknown, pointer: string): SchemaFault | null {
  const [first = null] = schemaFaults(schema, value, pointer);
  return first;
}

/**
 * The places where a JSON value departs from a schema, one after the other. Unknown fields come
 * first: a mistyped name explains more than the field it leaves missing. `description` of a schema,
 * where given, is the text after "must be".
 *
 * Own code, because the validator's own list answers an optional field with four errors and walks
 * the whole of a hostile value (2 s for 10 MB); this one goes no further than it is read. Knows the
 * keywords that the schemas here use; a test holds it to the compiled validator.
 */
export function* schemaFaults(schema: object, value: unknown, pointer: string): Faults {
  const s = schema as Schema;
  if (Array.isArray(s.anyOf)) yield* unionFaults(s, s.anyOf, value, pointer);
  else if (Object.hasOwn(s, 'const')) {
    if (value !== s.const) yield wrong(pointer, `must be ${JSON.stringify(s.const)}`, value);
  } else if (s.type === 'object') yield* objectFaults(s, value, pointer);
  else if (s.type === 'array') yield* arrayFaults(s, value, pointer);
  else if (s.type === 'string') yield* stringFaults(s, value, pointer);
  else if (s.type === 'number' || s.type === 'integer') yield* numberFaults(s, value, pointer);
  else if (s.type === 'boolean') {
    if (typeof value !== 'boolean') yield wrong(pointer, 'must be true or false', value);
  } else if (s.type === 'null') {
    if (value !== null) yield wrong(pointer, 'must be null', value);
  } else throw new RangeError(`schema keyword not known at ${pointer}`);
}

/** Of a value that is none of the members, the faults that the first finds. */
function* unionFaults(schema: Schema, members: readonly unknown[], value: unknown, pointer: string): Faults {
  if (value === null && members.some((member) => isObject(member) && member.type === 'null')) return;
  const rest = members.filter((member): member is Schema => isObject(member) && member.type !== 'null');
  const constants = rest.filter((member) => Object.hasOwn(member, 'const')).map((member) => member.const);
  if (constants.length === rest.length && constants.length > 1) {
    if (constants.includes(value)) return;
    const listed = constants.map((constant) => JSON.stringify(constant)).join(', ');
    yield wrong(pointer, `must be one of ${listed}`, value);
    return;
  }
  const [first, ...others] = rest;
  if (first === undefined) yield wrong(pointer, `must be ${describe(schema) ?? 'null'}`, value);
  else if (others.every((member) => schemaFault(member, value, pointer) !== null))
    yield* schemaFaults(first, value, pointer);
}

function* objectFaults(schema: Schema, value: unknown, pointer: string): Faults {
  if (!isObject(value)) {
    yield wrong(pointer, `must be ${describe(schema) ?? 'an object in { }'}`, value);
    return;
  }
  const properties = schema.properties as Readonly<Record<string, object>>;
  const known = Object.keys(properties);
  const meant = new Set<string>();
  if (schema.additionalProperties === false) {
    for (const key in value) {
      if (Object.hasOwn(properties, key) || !Object.hasOwn(value, key)) continue;
      const near = nearestName(key, known);
      const advice = near === null ? `Known are ${known.join(', ')}.` : `Did you mean "${near}"?`;
      if (near !== null) meant.add(near);
      yield { pointer: pointer + pointerStep(key), text: `is not a known field. ${advice}` };
    }
  }
  const required = Array.isArray(schema.required) ? (schema.required as readonly string[]) : [];
  for (const [key, property] of Object.entries(properties)) {
    const inner = pointer + pointerStep(key);
    if (Object.hasOwn(value, key) && value[key] !== undefined)
      yield* schemaFaults(property, value[key], inner);
    else if (required.includes(key) && !meant.has(key))
      yield { pointer: inner, text: 'is missing and has to be given.' };
  }
}

function* arrayFaults(schema: Schema, value: unknown, pointer: string): Faults {
  const { minItems, maxItems } = schema;
  if (!Array.isArray(value)) {
    yield wrong(pointer, `must be ${describe(schema) ?? 'a list in [ ]'}`, value);
  } else if (typeof maxItems === 'number' && value.length > maxItems) {
    yield {
      pointer,
      text: `holds ${value.length} entries; at most ${maxItems} are allowed.`,
      limit: maxItems,
      found: value.length,
    };
  } else if (typeof minItems === 'number' && value.length < minItems) {
    yield { pointer, text: `must hold at least ${minItems} entries.`, limit: minItems, found: value.length };
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
      yield { pointer: pointer + pointerStep(i), text: `repeats ${shown(item)}. Write each once.` };
    seen.add(item);
  }
}

function* stringFaults(schema: Schema, value: unknown, pointer: string): Faults {
  const { minLength, maxLength, pattern } = schema;
  const expected = `must be ${describe(schema) ?? 'a text in quotes'}`;
  if (typeof value !== 'string') {
    yield wrong(pointer, expected, value);
    return;
  }
  const length = [...value.slice(0, 20_000)].length;
  if (typeof maxLength === 'number' && length > maxLength) {
    yield {
      pointer,
      text: `has ${length} characters; shorten it to ${maxLength} at most.`,
      limit: maxLength,
      found: length,
    };
    return;
  }
  const tooShort = typeof minLength === 'number' && length < minLength;
  if (tooShort || (typeof pattern === 'string' && !new RegExp(pattern, 'u').test(value)))
    yield wrong(pointer, expected, value);
}

function* numberFaults(schema: Schema, value: unknown, pointer: string): Faults {
  const { minimum, maximum } = schema;
  const whole = schema.type === 'integer';
  const kind = whole ? 'a whole number' : 'a number';
  const range =
    typeof minimum === 'number' && typeof maximum === 'number' ? ` from ${minimum} to ${maximum}` : '';
  const fault = () => wrong(pointer, `must be ${kind}${range}`, value);
  if (typeof value !== 'number' || !Number.isFinite(value)) yield fault();
  else if (whole && !Number.isInteger(value)) yield { ...fault(), found: value };
  else if (typeof minimum === 'number' && value < minimum) yield { ...fault(), limit: minimum, found: value };
  else if (typeof maximum === 'number' && value > maximum) yield { ...fault(), limit: maximum, found: value };
}

function describe(schema: Schema): string | null {
  return typeof schema.description === 'string' ? schema.description : null;
}

function wrong(pointer: string, expected: string, value: unknown): SchemaFault {
  return { pointer, text: `${expected}; found ${shown(value)}.` };
}

function shown(value: unknown): string {
  if (typeof value === 'string') return quote(value);
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' && value !== null ? 'an object' : String(value);
}
