import type { FastifySchemaCompiler } from 'fastify';
import Type from 'typebox';
import { EngineError } from '../errors.ts';
import { isObject } from '../ingest/json-text.ts';
import { nearestName } from '../ingest/nearest-name.ts';
import { quote } from '../ingest/quote.ts';
import { schemaFault } from '../ingest/schema-fault.ts';
import { message } from '../message.ts';

/** The schema of a query without parameters. */
export const NO_QUERY = Type.Object({}, { additionalProperties: false });

interface ObjectSchema {
  readonly properties: Readonly<Record<string, { readonly type?: unknown }>>;
  readonly required?: readonly string[];
}

const WHOLE = /^-?[0-9]{1,15}$/;

/**
 * A query by its schema. Only here texts become numbers, and only such as are written plainly.
 * @throws EngineError `unknown-parameter`, `duplicate-parameter` or `bad-request`.
 */
function checkedQuery(schema: ObjectSchema, query: unknown): Readonly<Record<string, string | number>> {
  const { properties, required = [] } = schema;
  const known = Object.keys(properties);
  const checked: Record<string, string | number> = {};
  for (const [name, value] of Object.entries(isObject(query) ? query : {})) {
    const pointer = `?${name.slice(0, 40)}`;
    const property = Object.hasOwn(properties, name) ? properties[name] : undefined;
    if (property === undefined) {
      const near = nearestName(name, known);
      const advice =
        near !== null
          ? `did you mean ${near}?`
          : known.length === 0
            ? 'there are none here'
            : `known here: ${known.join(', ')}`;
      throw new EngineError('unknown-parameter', `the parameter ${quote(name)} is not known: ${advice}`, {
        pointer,
      });
    }
    if (typeof value !== 'string') {
      throw new EngineError(
        'duplicate-parameter',
        `the parameter ${name} is given more than once: give it once`,
        {
          pointer,
        },
      );
    }
    const isWhole = property.type === 'integer' && WHOLE.test(value);
    const meant = isWhole ? Number(value) : value;
    const fault = schemaFault(property, meant, '');
    if (fault !== null)
      throw new EngineError('bad-request', message`the parameter ${name} ${fault.departure}`, { pointer });
    checked[name] = meant;
  }
  for (const name of required) {
    if (!Object.hasOwn(checked, name)) {
      throw new EngineError('bad-request', `the parameter ${name} is missing and has to be given`, {
        pointer: `?${name}`,
      });
    }
  }
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
