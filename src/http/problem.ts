/** Every error as an RFC 9457 problem document. */
import { STATUS_CODES } from 'node:http';
import Type from 'typebox';
import { EngineError, type ErrorCode, type ErrorPlace } from '../errors.ts';
import { closed, list, number, type Shaped, text } from '../schema.ts';
import { errorText } from '../text/errors.ts';
import type { UnitSystem } from '../units.ts';

export const PROBLEM_TYPE = 'application/problem+json';

const whole = Type.Optional(Type.Integer());

/** One place of the fault; `parameter` names a query parameter. */
const problemError = Type.Object({
  detail: text,
  pointer: Type.Optional(text),
  parameter: Type.Optional(text),
  file: Type.Optional(text),
  line: whole,
  column: whole,
  byteOffset: whole,
  limit: Type.Optional(number),
  found: Type.Optional(number),
});

export const problemSchema = closed({
  type: text,
  title: text,
  status: Type.Integer(),
  detail: text,
  instance: text,
  code: text,
  errors: list(problemError),
});

type ProblemError = Shaped<typeof problemError>;
export type Problem = Shaped<typeof problemSchema>;

/** What the framework, the multipart reader and the database call what our table knows by another name. */
const FOREIGN: Readonly<Record<string, readonly [ErrorCode, string]>> = {
  FST_ERR_CTP_INVALID_MEDIA_TYPE: [
    'unsupported-media-type',
    'the Content-Type cannot be read: write it plainly',
  ],
  FST_ERR_CTP_BODY_TOO_LARGE: ['body-too-large', 'the body is over 10 MiB: thin or split the line'],
  FST_REQ_FILE_TOO_LARGE: ['body-too-large', 'a file is over 10 MiB: thin or split the line'],
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: [
    'bad-request',
    'the body is shorter or longer than Content-Length says',
  ],
  FST_ERR_BAD_URL: ['bad-request', 'the address holds a % that is not followed by a valid escape'],
  FST_ERR_MAX_PARAM_LENGTH: ['uri-too-long', 'a part of the address is too long'],
  SQLITE_FULL: ['storage-full', 'the disk is full: nothing was stored'],
  SQLITE_BUSY: ['unavailable', 'the store is busy: try again in a few seconds'],
};

/** Longest piece of the user's input that is repeated, characters. */
const LONGEST_QUOTE = 100;

/** The error as one of our table; anything unknown is `internal` and says nothing of itself. */
export function knownError(error: unknown): EngineError {
  if (error instanceof EngineError) return error;
  const { code, statusCode } = (error ?? {}) as { code?: unknown; statusCode?: unknown };
  const name = typeof code === 'string' ? code : '';
  const foreign = FOREIGN[name] ?? (name.startsWith('SQLITE_BUSY') ? FOREIGN.SQLITE_BUSY : undefined);
  if (foreign !== undefined) return new EngineError(...foreign);
  if (typeof statusCode === 'number' && statusCode >= 400 && statusCode < 500) {
    return new EngineError('bad-request', 'the request cannot be read');
  }
  return new EngineError('internal', 'something went wrong here; it has been logged under the instance’s id');
}

function placeOf(place: ErrorPlace, detail: string): ProblemError {
  const { pointer, file, ...rest } = place;
  const at =
    pointer === undefined
      ? {}
      : pointer.startsWith('?')
        ? { parameter: pointer.slice(1, LONGEST_QUOTE) }
        : { pointer: pointer.slice(0, 4 * LONGEST_QUOTE) };
  return { ...at, ...(file === undefined ? {} : { file: file.slice(-LONGEST_QUOTE) }), ...rest, detail };
}

/** @param units of a page; programs are told in metres */
export function problemOf(error: EngineError, requestId: string, units: UnitSystem = 'metric'): Problem {
  const detail = errorText(error, units);
  return {
    type: 'about:blank',
    title: STATUS_CODES[error.status] ?? 'Error',
    status: error.status,
    detail,
    instance: `urn:uuid:${requestId}`,
    code: error.code,
    errors: error.all
      .filter(({ place }) => error.more.length > 0 || Object.keys(place).length > 0)
      .map((one) => placeOf(one.place, errorText(one, units))),
  };
}
