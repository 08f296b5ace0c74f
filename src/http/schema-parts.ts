/** What the schemas of answers are put together from. */
import Type from 'typebox';

/** A schema of `COMPONENTS` by its name. */
export const ref = (name: string) => Type.Unsafe<unknown>({ $ref: `${name}#` });

export const orNull = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

/** An object with these fields and no other. */
export const closed = <T extends Type.TProperties>(properties: T, description?: string) =>
  Type.Object(properties, {
    additionalProperties: false,
    ...(description === undefined ? {} : { description }),
  });

/** An object whose fields are told in words alone. */
export const open = (description: string) => Type.Object({}, { additionalProperties: true, description });

export const oneOf = <T extends string>(names: readonly T[]) =>
  Type.Union(names.map((name) => Type.Literal(name)));

export const number = Type.Number();
export const text = Type.String();
export const numberOrNull = orNull(number);
/** Of every answer with figures that were measured. */
export const attribution = Type.Array(text, {
  description: 'words that the elevation tiles under it ask for on whatever is made from them',
});
export const instant = Type.String({ format: 'date-time' });
