import { isObject, pointerStep } from './json-text.ts';
import { nearestName } from './nearest-name.ts';
import { quote } from './quote.ts';

/** The first thing wrong with a value: where, and the rest of the sentence "… must be …". */
export interface SchemaFault {
  readonly pointer: string;
  readonly text: string;
  readonly limit?: number;
  readonly found?: number;
}

/**
 * Finds the first place where a JSON value departs from a schema, or `null`. Unknown fields come
 * first: a mistyped name explains more than the field it leaves missing. `description` of a schema,
 * where given, is the text after "must be".
 *
 * Own code, because the validator's own list answers an optional field with four errors and walks
 * the whole of a hostile value (2 s for 10 MB). Knows the keywords that the schemas here use; a test
 * holds it to the compiled validator.
 */
export function schemaFault(schema: object, value: unknown, pointer: string): SchemaFault | null {
  const s = schema as Readonly<Record<string, unknown>>;
  if (Array.isArray(s.anyOf)) return unionFault(s, s.anyOf, value, pointer);
  if (Object.hasOwn(s, 'const')) {
    return value === s.const ? null : wrong(pointer, `must be ${JSON.stringify(s.const)}`, value);
  }
  switch (s.type) {
    case 'object':
      return objectFault(s, value, pointer);
    case 'array':
      return arrayFault(s, value, pointer);
    case 'string':
      return stringFault(s, value, pointer);
    case 'number':
    case 'integer':
      return numberFault(s, value, pointer);
    case 'boolean':
      return typeof value === 'boolean' ? null : wrong(pointer, 'must be true or false', value);
    case 'null':
      return value === null ? null : wrong(pointer, 'must be null', value);
    default:
      throw new RangeError(`schema keyword not known at ${pointer}`);
  }
}

type Schema = Readonly<Record<string, unknown>>;

function unionFault(
  schema: Schema,
  members: readonly unknown[],
  value: unknown,
  pointer: string,
): SchemaFault | null {
  if (value === null && members.some((member) => isObject(member) && member.type === 'null')) return null;
  const rest = members.filter((member): member is Schema => isObject(member) && member.type !== 'null');
  const constants = rest.filter((member) => Object.hasOwn(member, 'const')).map((member) => member.const);
  if (constants.length === rest.length && constants.length > 1) {
    if (constants.includes(value)) return null;
    const listed = constants.map((constant) => JSON.stringify(constant)).join(', ');
    return wrong(pointer, `must be one of ${listed}`, value);
  }
  let first: SchemaFault | null = null;
  for (const member of rest) {
    const fault = schemaFault(member, value, pointer);
    if (fault === null) return null;
    first ??= fault;
  }
  return first ?? wrong(pointer, `must be ${describe(schema) ?? 'null'}`, value);
}

function objectFault(schema: Schema, value: unknown, pointer: string): SchemaFault | null {
  if (!isObject(value)) return wrong(pointer, `must be ${describe(schema) ?? 'an object in { }'}`, value);
  const properties = schema.properties as Readonly<Record<string, object>>;
  const known = Object.keys(properties);
  if (schema.additionalProperties === false) {
    for (const key in value) {
      if (Object.hasOwn(properties, key) || !Object.hasOwn(value, key)) continue;
      const near = nearestName(key, known);
      const advice = near === null ? `Known are ${known.join(', ')}.` : `Did you mean "${near}"?`;
      return { pointer: pointer + pointerStep(key), text: `is not a known field. ${advice}` };
    }
  }
  const required = Array.isArray(schema.required) ? (schema.required as readonly string[]) : [];
  for (const key of known) {
    const property = properties[key];
    if (property === undefined) continue;
    const inner = pointer + pointerStep(key);
    if (!Object.hasOwn(value, key) || value[key] === undefined) {
      if (required.includes(key)) return { pointer: inner, text: 'is missing and has to be given.' };
      continue;
    }
    const fault = schemaFault(property, value[key], inner);
    if (fault !== null) return fault;
  }
  return null;
}

function arrayFault(schema: Schema, value: unknown, pointer: string): SchemaFault | null {
  if (!Array.isArray(value)) return wrong(pointer, `must be ${describe(schema) ?? 'a list in [ ]'}`, value);
  const { minItems, maxItems } = schema;
  if (typeof maxItems === 'number' && value.length > maxItems) {
    return {
      pointer,
      text: `holds ${value.length} entries; at most ${maxItems} are allowed.`,
      limit: maxItems,
      found: value.length,
    };
  }
  if (typeof minItems === 'number' && value.length < minItems) {
    return { pointer, text: `must hold at least ${minItems} entries.`, limit: minItems, found: value.length };
  }
  for (let i = 0; i < value.length; i += 1) {
    const fault = schemaFault(schema.items as object, value[i], pointer + pointerStep(i));
    if (fault !== null) return fault;
  }
  if (schema.uniqueItems === true) {
    const seen = new Set<unknown>();
    for (let i = 0; i < value.length; i += 1) {
      if (seen.has(value[i])) {
        return { pointer: pointer + pointerStep(i), text: `repeats ${shown(value[i])}. Write each once.` };
      }
      seen.add(value[i]);
    }
  }
  return null;
}

function stringFault(schema: Schema, value: unknown, pointer: string): SchemaFault | null {
  const { minLength, maxLength, pattern } = schema;
  const expected = `must be ${describe(schema) ?? 'a text in quotes'}`;
  if (typeof value !== 'string') return wrong(pointer, expected, value);
  const length = [...value.slice(0, 20_000)].length;
  if (typeof maxLength === 'number' && length > maxLength) {
    return {
      pointer,
      text: `has ${length} characters; shorten it to ${maxLength} at most.`,
      limit: maxLength,
      found: length,
    };
  }
  const tooShort = typeof minLength === 'number' && length < minLength;
  if (tooShort || (typeof pattern === 'string' && !new RegExp(pattern, 'u').test(value))) {
    return wrong(pointer, expected, value);
  }
  return null;
}

function numberFault(schema: Schema, value: unknown, pointer: string): SchemaFault | null {
  const { minimum, maximum } = schema;
  const whole = schema.type === 'integer';
  const kind = whole ? 'a whole number' : 'a number';
  const range =
    typeof minimum === 'number' && typeof maximum === 'number' ? ` from ${minimum} to ${maximum}` : '';
  const expected = `must be ${kind}${range}`;
  if (typeof value !== 'number' || !Number.isFinite(value)) return wrong(pointer, expected, value);
  if (whole && !Number.isInteger(value)) return { ...wrong(pointer, expected, value), found: value };
  if (typeof minimum === 'number' && value < minimum) {
    return { ...wrong(pointer, expected, value), limit: minimum, found: value };
  }
  if (typeof maximum === 'number' && value > maximum) {
    return { ...wrong(pointer, expected, value), limit: maximum, found: value };
  }
  return null;
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
