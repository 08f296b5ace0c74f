import type { Note } from '../notes.ts';
import type { RouteAttributes } from './attributes.ts';
import type { TimeTally } from './times.ts';
import type { Waypoint } from './track.ts';

/** A point as a format's reader gives it; the repair may move its longitude by whole turns. */
export interface RawPoint {
  lonDeg: number;
  readonly latDeg: number;
  elevationM: number | null;
  timeMs: number | null;
}

/** One run of points, with the way to name each of them in an error. */
export interface RawSegment {
  readonly pointer: string;
  readonly pointPointer: (index: number) => string;
  readonly points: RawPoint[];
}

/** A segment on its way through the repair: what is left of the points, and where they came from. */
export interface WorkSegment {
  readonly raw: RawSegment;
  readonly points: readonly RawPoint[];
}

/** How many points some segments hold together. */
export const pointCount = (segments: readonly Pick<WorkSegment, 'points'>[]): number =>
  segments.reduce((sum, { points }) => sum + points.length, 0);

/** Where a point that came through the repair stands in the file. */
export function pointPlace(segment: WorkSegment, point: RawPoint): string {
  return segment.raw.pointPointer(segment.raw.points.indexOf(point));
}

/** One route of a file before the repair. Coordinates are in range and rounded; nothing else is checked. */
export interface RawTrack {
  readonly pointer: string;
  /** Cleaned; `null` where the file gives none, empty where it gives a blank one. */
  readonly name: string | null;
  /** A recording of a walk, or a line drawn by hand or router: long straight legs are normal only in the latter. */
  readonly kind: 'recorded' | 'drawn';
  readonly segments: readonly RawSegment[];
  readonly attributes: RouteAttributes | null;
  readonly times: TimeTally;
  readonly notes: readonly Note[];
}

export interface RawFile {
  readonly tracks: readonly RawTrack[];
  readonly waypoints: readonly Waypoint[];
  /** The name of the whole file, for routes without one. */
  readonly name: string | null;
  readonly notes: readonly Note[];
}
