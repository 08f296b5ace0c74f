import type { Track } from '../ingest/track.ts';
import type { TileInfo } from './surface.ts';

/** Steepness of the ground at each station, degrees; `null` where heights are missing. */
export interface GroundSlopes {
  readonly onDeg: readonly (number | null)[];
  /** The steeper of 50 m to the left and to the right. */
  readonly besideDeg: readonly (number | null)[];
  /** The steepest within 100 m on the side that lies higher than the line; `null` also where neither does. */
  readonly aboveDeg: readonly (number | null)[];
}

/**
 * One stretch of a track as stations at equal steps along the line, both ends included.
 * All arrays have one entry a station. Heights in metres, `null` where the tiles do not know.
 */
export interface ElevatedSegment {
  /** Distance along the whole track, gaps not counted, metres; the first station of a later segment repeats the last one's value. */
  readonly distanceM: readonly number[];
  readonly lonDeg: readonly number[];
  readonly latDeg: readonly number[];
  readonly groundM: readonly (number | null)[];
  /** Heights `OFFSET_M` to the left and right of the line: what a sideways error of the line would do. */
  readonly leftM: readonly (number | null)[];
  readonly rightM: readonly (number | null)[];
  /** Height written in the file, interpolated along the line; `null` where either neighbour has none. */
  readonly recordedM: readonly (number | null)[];
  readonly slopes: GroundSlopes;
  /** Clock of the file, interpolated along the line, ms since 1970; `null` where either neighbour has none. */
  readonly timeMs: readonly (number | null)[];
}

/** A track laid on the terrain. */
export interface ElevatedTrack {
  readonly track: Track;
  readonly segments: readonly ElevatedSegment[];
  /** Ellipsoidal length of the line as drawn, gaps left out, metres. */
  readonly lengthM: number;
  /** Share of the line's length whose height is known, 0 to 1. */
  readonly coverage: number;
  /** The tiles that gave heights. */
  readonly sources: readonly TrackSource[];
}

/** From and to along the track, metres. */
export type Stretch = readonly [number, number];

/** What one tile gave of a track. */
export interface TrackSource {
  readonly tile: TileInfo;
  /** Share of the stations it answered. */
  readonly share: number;
  /** Where, in order; a station stands for the half steps beside it. */
  readonly stretches: readonly Stretch[];
}

/** Greatest distance between two stations, metres (design; reasons in src/route/README.md). */
export const STATION_SPACING_M = 20;
/** How far beside the line the sideways heights are taken, metres (design: a hand-held receiver's usual error). */
export const OFFSET_M = 10;
