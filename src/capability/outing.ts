import Type from 'typebox';
import type { Note } from '../notes.ts';
import {
  attribution,
  closed,
  list,
  number,
  numberOrNull,
  oneOf,
  orNull,
  type Shaped,
  text,
  textOrNull,
} from '../schema.ts';
import { quantitiesSchema } from './quantities.ts';

const timedPart = closed({ quantities: quantitiesSchema, movingMin: number });

/** A day that was walked, reduced to what later stages use. No positions, no names. */
const outing = closed({
  date: text,
  source: oneOf(['track', 'hand']),
  distanceM: number,
  /** `null` where the heights under the line are not all known. */
  gainM: numberOrNull,
  /** Upper end of the gain’s band; equal to `gainM` where it was entered by hand. */
  gainHighM: numberOrNull,
  highM: numberOrNull,
  rockClass: textOrNull,
  /** Labels of those who were there; `null`: not recorded, counts for everyone. */
  members: orNull(list(text)),
  quantities: orNull(quantitiesSchema),
  /** Parts with a known moving time; empty where the outing had no clock. */
  parts: list(timedPart),
  movingMin: numberOrNull,
  standingMin: numberOrNull,
  /** Mean height of the climbing, metres; `null` where not known. */
  climbElevationM: numberOrNull,
  /**
   * When the walk began and ended, ms since 1970; `null` where not known. Only to tell two recordings of one walk from
   * two walks of one day.
   */
  clockFromMs: numberOrNull,
  clockToMs: numberOrNull,
  /** A day by hand has none. */
  attribution: Type.Optional(attribution),
});

/** What is stored of an outing, but for its notes. Those of an older program do not have the clock. */
export const storedOutingFields = {
  ...outing.properties,
  clockFromMs: Type.Optional(numberOrNull),
  clockToMs: Type.Optional(numberOrNull),
};

export type TimedPart = Shaped<typeof timedPart>;

export interface Outing extends Shaped<typeof outing> {
  readonly notes: readonly Note[];
}
