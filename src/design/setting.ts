/** What the settings are put together from: each states its default, its range and what it is, in one place. */
import Type from 'typebox';
import { CLOCK, closed } from '../schema.ts';

/**
 * A number in the unit that its name ends with. The description says what it is, and its source where it has one:
 * without one it is the project's own ("design").
 */
export const amount = (value: number, minimum: number, maximum: number, description: string) =>
  Type.Number({ default: value, minimum, maximum, description });

/** Settings that belong together. */
export const topic = <T extends Type.TProperties>(description: string, settings: T) =>
  closed(settings, description);

/** A number for each age band, youngest first. */
export const byAge = (
  [children, juniors, seniors, adults]: readonly [number, number, number, number],
  minimum: number,
  maximum: number,
  description: string,
) => {
  const one = (value: number) => Type.Number({ default: value, minimum, maximum });
  const ages = { '8-11': one(children), '12-14': one(juniors), '15-17': one(seniors), adult: one(adults) };
  return closed(ages, description);
};

/** A time of day. */
export const clock = (value: string, description: string) =>
  Type.String({ default: value, pattern: CLOCK, description });
