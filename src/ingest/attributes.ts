import Type from 'typebox';
import { closed, maybe, oneOf } from '../schema.ts';
import { inQuotes } from './schema-fault.ts';

/** `06-15`: a day of every year. */
const MONTH_DAY = '^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$';
/** `06-15` (every year) or `2026-06-15`. */
const DATE_OR_MONTH_DAY = '^([0-9]{4}-)?(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$';

/**
 * Classes 1 to 5 of the Sierra Club system, with `+`/`-`; only class 5 has decimals (`5.4`);
 * `3s4` is class 3 with a class 4 summit block.
 */
export const ROCK_CLASS_PATTERN =
  '^([1-4]|5(\\.[0-9]{1,2}[a-d]?)?)[+-]?(s([1-4]|5(\\.[0-9]{1,2}[a-d]?)?)[+-]?)?$';

/** A rock class as text; the description completes "must be". */
export const rockClassSchema = Type.String({
  pattern: ROCK_CLASS_PATTERN,
  ...inQuotes('a class', '"1", "2+", "3s4" or "5.4"'),
});

const monthDay = Type.String({ pattern: MONTH_DAY, ...inQuotes('a month and day', '"06-15"') });
const dateOrMonthDay = Type.String({
  pattern: DATE_OR_MONTH_DAY,
  ...inQuotes('a day', '"2026-06-15", or "06-15" for every year'),
});
const shortText = Type.String({ maxLength: 200 });
const longText = Type.String({ maxLength: 4000 });

/** What a vehicle needs, or has, under its floor. */
export const clearanceSchema = oneOf(['any', 'high', 'fourWheel']);

const point = closed({
  name: maybe(shortText),
  lat: Type.Number({ minimum: -90, maximum: 90 }),
  lon: Type.Number({ minimum: -180, maximum: 180 }),
  notes: maybe(longText),
});

const closure = closed({ from: dateOrMonthDay, to: dateOrMonthDay, reason: maybe(longText) });

/** What a GPX file cannot say about a route: `NAME.route.json`, or a GeoJSON feature's `properties`. */
export const routeAttributesSchema = closed({
  name: maybe(shortText),
  rockClass: maybe(rockClassSchema),
  surface: maybe(oneOf(['trail', 'rough', 'talus', 'snow'])),
  // Metres of the whole day, there and back, on which hands are needed; 0: looked at, and none.
  scrambleM: maybe(Type.Number({ minimum: 0, maximum: 100_000 })),
  treelineM: maybe(Type.Number({ minimum: -430, maximum: 6000 })),
  // Whether the way lies open below treeline too (rock, burnt or grazed ground, moor), and from which height.
  openGround: maybe(oneOf(['none', 'some'])),
  openAboveM: maybe(Type.Number({ minimum: -430, maximum: 6000 })),
  timeZone: maybe(shortText),
  trailhead: maybe(
    closed({
      name: maybe(shortText),
      roadClearance: maybe(clearanceSchema),
      roadKm: maybe(Type.Number({ minimum: 0, maximum: 5000 })),
      roadMin: maybe(Type.Number({ minimum: 0, maximum: 10000 })),
      roadStatus: maybe(shortText),
      parkingSpaces: maybe(Type.Integer({ minimum: 0, maximum: 10000 })),
    }),
  ),
  groupSizeLimit: maybe(Type.Integer({ minimum: 1, maximum: 1000 })),
  permit: maybe(
    closed({ who: maybe(shortText), partiesPerDay: maybe(Type.Integer({ minimum: 0, maximum: 10000 })) }),
  ),
  // Of a route that ends elsewhere: how a group gets from its end back to its start.
  pickUp: maybe(shortText),
  season: maybe(closed({ from: monthDay, to: monthDay })),
  closures: maybe(Type.Array(closure, { maxItems: 100 })),
  waterPoints: maybe(Type.Array(point, { maxItems: 200 })),
  waysOut: maybe(Type.Array(point, { maxItems: 200 })),
  notes: maybe(longText),
});

export type RouteAttributes = Type.Static<typeof routeAttributesSchema>;
