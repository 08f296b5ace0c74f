import type { Track } from '../ingest/track.ts';
import { covers, type TileInfo } from './surface.ts';

/**
 * Whether longitude and latitude seem exchanged: no point of the track lies in any tile, and with the two
 * swapped at least half of them do.
 */
export function looksSwapped(track: Track, sources: readonly TileInfo[]): boolean {
  let points = 0;
  let swapped = 0;
  for (const segment of track.segments) {
    for (const place of segment) {
      if (sources.some((tile) => covers(tile, place, 1))) return false;
      points += 1;
      const exchanged = { lonDeg: place.latDeg, latDeg: place.lonDeg };
      if (Math.abs(place.lonDeg) <= 90 && sources.some((tile) => covers(tile, exchanged, 1))) swapped += 1;
    }
  }
  return points > 0 && swapped * 2 >= points;
}
