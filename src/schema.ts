/** What the schemas are put together from: of files, bodies and forms, of settings and of answers. */
import Type from 'typebox';

/** A value of this schema, as it is passed on: nobody changes it. */
export type Shaped<S extends Type.TSchema> = Frozen<Type.Static<S>>;

type Frozen<T> = T extends object ? { readonly [K in keyof T]: Frozen<T[K]> } : T;

/** An object with these fields and no other. */
export const closed = <T extends Type.TProperties>(properties: T, description?: string) =>
  Type.Object(properties, {
    additionalProperties: false,
    ...(description === undefined ? {} : { description }),
  });

export const orNull = <T extends Type.TSchema>(schema: T, options: Type.TSchemaOptions = {}) =>
  Type.Union([schema, Type.Null()], options);

/** A field that may be missing or `null`: both mean "not stated". */
export const maybe = <T extends Type.TSchema>(schema: T) => Type.Optional(orNull(schema));

/** An object whose fields are described in words alone. */
export const open = (description: string) => Type.Object({}, { additionalProperties: true, description });

export const oneOf = <const T extends string>(names: readonly T[], options: Type.TSchemaOptions = {}) =>
  Type.Unsafe<T>(
    Type.Union(
      names.map((name) => Type.Literal(name)),
      options,
    ),
  );

export const list = <T extends Type.TSchema>(items: T, options: Type.TArrayOptions = {}) =>
  Type.Array(items, options);

/** A schema that the OpenAPI document shows once, under its name, wherever it is used. */
export const named = <T extends Type.TSchema>(name: string, _schema: T) =>
  Type.Unsafe<Type.Static<T>>({ $ref: `${name}#` });

export const number = Type.Number();
export const text = Type.String();
export const boolean = Type.Boolean();
export const numberOrNull = orNull(number);
export const textOrNull = orNull(text);
/** A moment as RFC 3339, with the offset of its place. */
export const instant = Type.String({ format: 'date-time' });
export const instantOrNull = orNull(instant);
/** Of every answer with figures that were measured. */
export const attribution = list(text, {
  description: 'words that the elevation tiles under it ask for on whatever is made from them',
});

/** `04:30`. */
export const CLOCK = '^([01][0-9]|2[0-3]):[0-5][0-9]$';
/** `2026-07-11`. */
export const DAY = '^[0-9]{4}-[0-9]{2}-[0-9]{2}$';
/** A label, never a name: too short for one, and without spaces. */
export const LABEL = '^[A-Za-z0-9_-]{1,12}$';

/** Whether the text is the name of a zone of the tz database that this machine knows: `America/Denver`, no `+01:00`. */
export function isZone(text: string): boolean {
  try {
    return /^[A-Za-z]/.test(text) && new Intl.DateTimeFormat('en', { timeZone: text }) !== null;
  } catch {
    return false;
  }
}
