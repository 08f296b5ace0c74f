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

export const oneOf = <const T extends string>(names: readonly T[]) =>
  Type.Unsafe<T>(Type.Union(names.map((name) => Type.Literal(name))));
