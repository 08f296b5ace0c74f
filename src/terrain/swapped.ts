import type { Track } from '../ingest/track.ts';
import type { TileInfo } from './surface.ts';

function covers(tile: TileInfo, lonDeg: number, latDeg: number): boolean {
  const middleDeg = (tile.westDeg + tile.eastDeg) / 2;
  const turnedDeg = lonDeg + 360 * Math.round((middleDeg - lonDeg) / 360);
  return (
    turnedDeg >= tile.westDeg - tile.stepLonDeg &&
    turnedDeg <= tile.eastDeg + tile.stepLonDeg &&
    latDeg >= tile.southDeg - tile.stepLatDeg &&
    latDeg <= tile.northDeg + tile.stepLatDeg
  );
}

/**
 * Whether longitude and latitude seem exchanged: no point of the track lies in any tile, and with the two
 * swapped at least half of them do.
 */
export function looksSwapped(track: Track, sources: readonly TileInfo[]): boolean {
  let points = 0;
  let swapped = 0;
  for (const segment of track.segments) {
    for (const { lonDeg, latDeg } of segment) {
      if (sources.some((tile) => covers(tile, lonDeg, latDeg))) return false;
      points += 1;
      if (Math.abs(lonDeg) <= 90 && sources.some((tile) => covers(tile, latDeg, lonDeg))) swapped += 1;
    }
  }
  return points > 0 && swapped * 2 >= points;
}
