import type { Track } from '../../ingest/track.ts';

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
export function withHeights(track: Track, heightsM: readonly (number | null)[]): Track {
  let index = -1;
  const segments = track.segments.map((points) =>
    points.map((point) => {
      index += 1;
      return { ...point, elevationM: heightsM[index] ?? null };
    }),
  );
  return { ...track, segments };
}
