import { type Message, plainText } from './message.ts';

/**
 * Every code that a user can cause, with the HTTP status that the API answers.
 * Stable: programs branch on these. A test holds the table in DEVELOPERS.md to this one.
 */
export const ERROR_STATUS = {
  // reading a route file
  'empty-body': 400,
  'xml-malformed': 400,
  'json-malformed': 400,
  'json-forbidden-key': 400,
  'doctype-not-allowed': 422,
  'xml-limits': 422,
  encoding: 422,
  'not-gpx': 422,
  'no-line': 422,
  'bad-coordinate': 422,
  'coordinates-look-swapped': 422,
  'zero-length': 422,
  'too-many-points': 422,
  'too-many-segments': 422,
  'too-many-routes': 422,
  'name-too-long': 422,
  'bad-text': 422,
  'implausible-jump': 422,
  'route-size': 422,
  'geojson-type': 422,
  'geojson-depth': 422,
  'unsupported-crs': 422,
  'compressed-not-supported': 415,
  'unsupported-media-type': 415,
  'body-too-large': 413,
  // attributes, cohorts, outings, settings
  'bad-attribute': 422,
  'bad-cohort': 422,
  'bad-outing': 422,
  'bad-what-if': 422,
  'outing-implausible': 422,
  'bad-date': 400,
  'bad-settings': 422,
  'bad-season': 422,
  // elevation tiles
  'dem-unreadable': 422,
  'dem-georeference': 422,
  'dem-crs': 422,
  'dem-vertical-datum': 422,
  'dem-unit': 422,
  'dem-catalogue': 422,
  'dem-host': 422,
  'dem-unreachable': 503,
  'dem-changed': 503,
  'dem-none': 422,
  // files and command line
  'file-not-found': 404,
  'file-unreadable': 422,
  usage: 400,
  // service
  'bad-request': 400,
  'cross-site': 403,
  'misdirected-host': 421,
  'unknown-parameter': 400,
  'duplicate-parameter': 400,
  'not-found': 404,
  'method-not-allowed': 405,
  'not-acceptable': 406,
  'precondition-failed': 412,
  'uri-too-long': 414,
  'precondition-required': 428,
  'headers-too-large': 431,
  'request-timeout': 408,
  internal: 500,
  unavailable: 503,
  'storage-full': 507,
} as const;

export type ErrorCode = keyof typeof ERROR_STATUS;

/** Where in the input the fault lies: whichever of these the reader knows. */
export interface ErrorPlace {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  /** JSON Pointer, or the element path of a GPX file (`/trk[1]/trkseg[1]/trkpt[3]/@lat`). */
  readonly pointer?: string;
  readonly byteOffset?: number;
  readonly limit?: number;
  readonly found?: number;
}

/**
 * Anything a user can cause. `reason` says what, where and what to do in one line, as data; `text/errors.ts` puts it into
 * words, and `message` is for logs alone. Our own mistakes are plain `RangeError`s.
 */
export class EngineError extends Error {
  readonly code: ErrorCode;
  readonly reason: Message;
  readonly place: ErrorPlace;
  /** What else is wrong with the same input, where all of it was looked at. */
  readonly more: readonly EngineError[];

  /** @param reason a text where it has no values */
  constructor(
    code: ErrorCode,
    reason: string | Message,
    place: ErrorPlace = {},
    more: readonly EngineError[] = [],
  ) {
    super(typeof reason === 'string' ? reason : plainText(reason));
    this.name = 'EngineError';
    this.code = code;
    this.reason = typeof reason === 'string' ? { pattern: [reason], values: [] } : reason;
    this.place = place;
    this.more = more;
  }

  get status(): number {
    return ERROR_STATUS[this.code];
  }

  /** This fault and those found with it, each alone. */
  get all(): readonly EngineError[] {
    return [new EngineError(this.code, this.reason, this.place), ...this.more];
  }

  /** The same error, with the file it came from. */
  inFile(file: string): EngineError {
    return together(
      this.all.map(({ code, reason, place }) => new EngineError(code, reason, { ...place, file })),
    );
  }
}

/** One error for several faults: it speaks for the first and carries the others. */
export function together(faults: readonly EngineError[]): EngineError {
  const [first, ...more] = faults;
  if (first === undefined) throw new RangeError('an error needs a fault');
  return new EngineError(first.code, first.reason, first.place, more);
}

/** The faults of an input that some work meets, each alone. @throws what is no fault of an input. */
export function faultsOf(work: () => unknown): readonly EngineError[] {
  try {
    work();
    return [];
  } catch (error) {
    if (error instanceof EngineError) return error.all;
    throw error;
  }
}

/** Does some work on a file, which an error of its input then names. */
export async function inFile<T>(file: string, work: () => T | Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(file) : error;
  }
}

/** The same of work that is done at once. */
export function inFileSync<T>(file: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(file) : error;
  }
}

/** The code that the platform or a library gave an error, such as `ENOENT`; empty where it gave none. */
export const systemCode = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : '';

/** What is told of a fault of the platform or a library: the first line of its message. */
export const firstLine = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).split('\n', 1)[0] ?? '';
