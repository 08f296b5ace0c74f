import { isRealDate } from '../earth/local-time.ts';
import { message } from '../message.ts';
import { isZone } from '../schema.ts';
import { type RouteAttributes, routeAttributesSchema } from './attributes.ts';
import { tidyText } from './names.ts';
import { quote } from './quote.ts';
import { type Faults, shapeCheck } from './shape.ts';
import { readSideFile } from './side-file.ts';

const attributesShape = shapeCheck(routeAttributesSchema, {
  code: 'bad-attribute',
  field: 'The route attribute',
  whole: 'The whole of the route attributes',
});

/** The fields that a route's attributes may have. */
export const ATTRIBUTE_NAMES: readonly string[] = Object.keys(routeAttributesSchema.properties);

/**
 * Reads the text of NAME.route.json. Missing and `null` fields stay as they are: "not stated".
 * @throws EngineError `bad-attribute` (or a JSON error) with the file, the pointer and what to write instead.
 */
export function readRouteAttributes(text: string, file: string): RouteAttributes {
  return readSideFile(text, file, 'bad-attribute', (value) => checkRouteAttributes(value, ''));
}

/**
 * Checks route attributes that were parsed already; `pointer` is where they stand in their document.
 * Texts come back in NFC without bidi controls.
 * @throws EngineError `bad-attribute` or `bad-text`.
 */
export function checkRouteAttributes(value: unknown, pointer: string): RouteAttributes {
  return tidyText(attributesShape(value, pointer, rulesOf), pointer);
}

function rulesOf(attributes: RouteAttributes, faults: Faults, pointer: string): void {
  const timeZone = faults.sound(`${pointer}/timeZone`, attributes.timeZone);
  if (timeZone != null && !isZone(timeZone)) {
    faults.addAt(
      `${pointer}/timeZone`,
      message`is ${quote(timeZone)}, no time zone. Write a name such as "America/Denver".`,
    );
  }
  dayRules(attributes, faults, pointer);
}

function dayRules({ season, closures }: RouteAttributes, faults: Faults, pointer: string): void {
  const dayRule = (at: string, day: string | undefined): void => {
    if (day !== undefined && !isRealDate(day.length === 5 ? `2000-${day}` : day))
      faults.addAt(at, message`is "${day}", a day that does not exist. Correct the date.`);
  };
  if (season != null) {
    for (const end of ['from', 'to'] as const)
      dayRule(`${pointer}/season/${end}`, faults.sound(`${pointer}/season/${end}`, season[end]));
  }
  for (const [closure, at] of faults.items(`${pointer}/closures`, closures)) {
    const from = faults.sound(`${at}/from`, closure.from);
    const to = faults.sound(`${at}/to`, closure.to);
    dayRule(`${at}/from`, from);
    dayRule(`${at}/to`, to);
    if (from === undefined || to === undefined) continue;
    if (from.length !== to.length) {
      faults.addAt(at, 'mixes a day of every year with a dated one. Write both with a year or both without.');
    }
    // Without a year a closure may wrap the new year, as a season may.
    else if (from.length > 5 && from > to)
      faults.addAt(at, 'ends before it begins. Exchange "from" and "to".');
  }
}
