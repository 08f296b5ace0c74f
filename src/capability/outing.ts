import type { Note } from '../notes.ts';
import type { Quantities } from './quantities.ts';

/** A stretch of an outing whose moving time is known. */
export interface TimedPart {
  readonly quantities: Quantities;
  readonly movingMin: number;
}

/** A day that was walked, reduced to what later stages use. No positions, no names. */
export interface Outing {
  readonly date: string;
  readonly source: 'track' | 'hand';
  readonly distanceM: number;
  /** `null` where the heights under the line are not all known. */
  readonly gainM: number | null;
  /** Upper end of the gain’s band; equal to `gainM` where it was entered by hand. */
  readonly gainHighM: number | null;
  readonly highM: number | null;
  readonly rockClass: string | null;
  /** Labels of those who were there; `null`: not recorded, counts for everyone. */
  readonly members: readonly string[] | null;
  /** `null` where heights are missing. */
  readonly quantities: Quantities | null;
  /** Parts with a known moving time; empty where the outing had no clock. */
  readonly parts: readonly TimedPart[];
  readonly movingMin: number | null;
  readonly standingMin: number | null;
  /** Mean height of the climbing, metres; `null` where not known. */
  readonly climbElevationM: number | null;
  /**
   * When the walk began and ended, ms since 1970; `null` where not known. Only to tell two recordings of one walk from
   * two walks of one day.
   */
  readonly clockFromMs: number | null;
  readonly clockToMs: number | null;
  readonly notes: readonly Note[];
  /** Words that the tiles under a recorded day ask for. A day by hand has none. */
  readonly attribution?: readonly string[];
}
