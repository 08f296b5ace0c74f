import { Compile } from 'typebox/compile';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError, type ErrorPlace } from '../errors.ts';
import { type RouteAttributes, routeAttributesSchema } from './attributes.ts';
import { isMonthDay } from './calendar.ts';
import { parseJson } from './json-text.ts';
import { tidyText } from './names.ts';
import { schemaFault } from './schema-fault.ts';
import { checkSideFileLength } from './side-file.ts';

const validator = Compile(routeAttributesSchema);

/** The fields that a route's attributes may have. */
export const ATTRIBUTE_NAMES: readonly string[] = Object.keys(routeAttributesSchema.properties);

/**
 * Reads the text of NAME.route.json. Missing and `null` fields stay as they are: "not stated".
 * @throws EngineError `bad-attribute` (or a JSON error) with the file, the pointer and what to write instead.
 */
export function readRouteAttributes(text: string, file: string): RouteAttributes {
  try {
    checkSideFileLength(text);
    return checkRouteAttributes(parseJson(text.replace(/^\uFEFF/, ''), 'bad-attribute'), '');
  } catch (error) {
    if (error instanceof EngineError) throw error.inFile(file);
    throw error;
  }
}

/**
 * Checks route attributes that were parsed already; `pointer` is where they stand in their document.
 * Texts come back in NFC without bidi controls.
 * @throws EngineError `bad-attribute` or `bad-text`.
 */
export function checkRouteAttributes(value: unknown, pointer: string): RouteAttributes {
  if (!validator.Check(value)) {
    const fault = schemaFault(routeAttributesSchema, value, pointer);
    if (fault === null) throw new RangeError('the schema refuses route attributes that its walker accepts');
    throw badAttribute(fault.pointer, fault.text, {
      ...(fault.limit === undefined ? {} : { limit: fault.limit }),
      ...(fault.found === undefined ? {} : { found: fault.found }),
    });
  }
  checkDays(value, pointer);
  return tidyText(value, pointer);
}

function checkDays(value: RouteAttributes, pointer: string): void {
  const { season, closures } = value;
  if (season !== undefined && season !== null) {
    for (const end of ['from', 'to'] as const) {
      if (!isMonthDay(season[end])) throw noSuchDay(`${pointer}/season/${end}`, season[end]);
    }
  }
  for (const [index, closure] of (closures ?? []).entries()) {
    const at = `${pointer}/closures/${index}`;
    for (const end of ['from', 'to'] as const) {
      const day = closure[end];
      if (!(day.length === 5 ? isMonthDay(day) : isRealDate(day))) throw noSuchDay(`${at}/${end}`, day);
    }
    if (closure.from.length !== closure.to.length) {
      throw badAttribute(
        at,
        'mixes a day of every year with a dated one. Write both with a year or both without.',
      );
    }
    // Without a year a closure may wrap the new year, as a season may.
    if (closure.from.length > 5 && closure.from > closure.to) {
      throw badAttribute(at, 'ends before it begins. Exchange "from" and "to".');
    }
  }
}

function noSuchDay(pointer: string, day: string): EngineError {
  return badAttribute(pointer, `is "${day}", a day that does not exist. Correct the date.`);
}

function badAttribute(pointer: string, text: string, place: ErrorPlace = {}): EngineError {
  const where = pointer === '' ? 'The whole of the route attributes' : `The route attribute ${pointer}`;
  return new EngineError('bad-attribute', `${where} ${text}`, { pointer, ...place });
}
