import type { Note } from '../notes.ts';
import type { RouteAttributes } from './attributes.ts';

/** One recorded or drawn position. Heights in metres as written in the file; `null` is "not stated". */
export interface TrackPoint {
  readonly lonDeg: number;
  readonly latDeg: number;
  readonly elevationM: number | null;
  readonly timeMs: number | null;
}

/** A named point of the file beside the line (a GPX `wpt`). */
export interface Waypoint {
  readonly name: string | null;
  readonly lonDeg: number;
  readonly latDeg: number;
}

/**
 * One line of a file, checked and repaired; nothing downstream re-checks it.
 *
 * Longitudes are unwrapped: neighbours never differ by more than 180°, so they may run past ±180°.
 * A segment has at least two points; no two consecutive points of a segment share a position.
 * `segments` are split only where the file leaves a gap (over 50 m): what lies between is not walked.
 */
export interface Track {
  readonly name: string;
  readonly segments: readonly (readonly TrackPoint[])[];
  readonly waypoints: readonly Waypoint[];
  /** From GeoJSON `properties`, `null` where they state none; for GPX `null`: see `NAME.route.json`. */
  readonly attributes: RouteAttributes | null;
  readonly notes: readonly Note[];
}
