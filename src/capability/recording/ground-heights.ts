import type { Track } from '../../ingest/track.ts';
import { mapPoints } from './line.ts';

/**
 * The one height that all points of a track state, `null` where none states any: a file that knows nothing of heights.
 * `undefined` where the heights differ.
 */
export function onlyHeightM({ segments }: Track): number | null | undefined {
  const [first] = segments[0] ?? [];
  const heightM = first?.elevationM ?? null;
  const isOnly = segments.every((points) => points.every((point) => point.elevationM === heightM));
  return isOnly ? heightM : undefined;
}

/** The track with these heights, one a point through all segments, in place of what the file states. */
export const withHeights = (track: Track, heightsM: readonly (number | null)[]): Track => ({
  ...track,
  segments: mapPoints(track.segments, (point, i) => ({ ...point, elevationM: heightsM[i] ?? null })),
});
