import type { FastifySchemaCompiler } from 'fastify';
import { EngineError, together } from '../errors.ts';
import { isObject } from '../ingest/json-text.ts';
import { nearestName } from '../ingest/nearest-name.ts';
import { quote } from '../ingest/quote.ts';
import { schemaFault } from '../ingest/schema-fault.ts';
import { message } from '../message.ts';
import { closed } from '../schema.ts';

export const NO_QUERY = closed({});

interface ObjectSchema {
  readonly properties: Readonly<Record<string, { readonly type?: unknown }>>;
  readonly required?: readonly string[];
}

/** More are not looked at: none has so many, so that the first of them is refused (design). */
const MOST_PARAMETERS = 20;

const WHOLE = /^-?[0-9]{1,15}$/;

/** The text of a parameter by its schema, a number where that has one; else what is wrong with it. */
function checkedParameter(
  properties: ObjectSchema['properties'],
  name: string,
  value: unknown,
): string | number | EngineError {
  const pointer = `?${name.slice(0, 40)}`;
  const property = Object.hasOwn(properties, name) ? properties[name] : undefined;
  if (property === undefined) {
    const known = Object.keys(properties);
    const near = nearestName(name, known);
    const advice =
      near !== null
        ? `did you mean ${near}?`
        : known.length === 0
          ? 'there are none here'
          : `known here: ${known.join(', ')}`;
    const reason = message`the parameter ${quote(name)} is not known: ${advice}`;
    return new EngineError('unknown-parameter', reason, { pointer });
  }
  if (typeof value !== 'string') {
    const reason = message`the parameter ${name} is given more than once: give it once`;
    return new EngineError('duplicate-parameter', reason, { pointer });
  }
  const meant = property.type === 'integer' && WHOLE.test(value) ? Number(value) : value;
  const fault = schemaFault(property, meant, '');
  return fault === null
    ? meant
    : new EngineError('bad-request', message`the parameter ${name} ${fault.departure}`, { pointer });
}

/**
 * A query by its schema. Only here texts become numbers, and only such as are written plainly.
 * @throws EngineError `unknown-parameter`, `duplicate-parameter` or `bad-request`, with all that is wrong.
 */
function checkedQuery(schema: ObjectSchema, query: unknown): Readonly<Record<string, string | number>> {
  const { properties, required = [] } = schema;
  const given = Object.entries(isObject(query) ? query : {});
  const checked: Record<string, string | number> = {};
  const faults: EngineError[] = [];
  for (const [name, value] of given.slice(0, MOST_PARAMETERS)) {
    const meant = checkedParameter(properties, name, value);
    if (meant instanceof EngineError) faults.push(meant);
    else checked[name] = meant;
  }
  for (const name of required) {
    if (given.some(([one]) => one === name)) continue;
    const reason = message`the parameter ${name} is missing and has to be given`;
    faults.push(new EngineError('bad-request', reason, { pointer: `?${name}` }));
  }
  if (faults.length > 0) throw together(faults);
  return checked;
}

/** @throws EngineError `not-found` where a part of the path cannot be one of our ids. */
function checkedParams(schema: ObjectSchema, params: unknown): unknown {
  if (schemaFault(schema, params, '') !== null)
    throw new EngineError('not-found', 'there is nothing at this address');
  return params;
}

/**
 * Fastify's hook for validation, instead of its own: that one coerces, drops unknown fields and says little.
 * Bodies are checked by the readers in `ingest/`, which walk the same schemas that the OpenAPI document shows.
 */
export const validatorCompiler: FastifySchemaCompiler<unknown> = ({ schema, httpPart }) => {
  const check = httpPart === 'querystring' ? checkedQuery : httpPart === 'params' ? checkedParams : null;
  if (check === null) return () => true;
  return (value: unknown) => {
    try {
      return { value: check(schema as ObjectSchema, value) };
    } catch (error) {
      return { error: error as Error };
    }
  };
};

/** For a page: its path is checked, its query is its own. */
export const paramsOnly: FastifySchemaCompiler<unknown> = (route) =>
  route.httpPart === 'params' ? validatorCompiler(route) : () => true;
