import type { Track } from '../ingest/track.ts';
import { type ElevatedSegment, type ElevatedTrack, STATION_SPACING_M } from './elevated-track.ts';
import { groundSlopes, PLACES_EACH, type SlopeWindows, slopeWindows } from './ground-slopes.ts';
import { measured, type Sides, type Stations, sides, stations } from './stations.ts';
import type { HeightSamples, Surface } from './surface.ts';

interface Laid {
  readonly at: Stations;
  readonly beside: Sides;
  readonly windows: SlopeWindows;
}

/**
 * Lays a track on the terrain: stations at equal steps of at most `STATION_SPACING_M`, with the ground's
 * height under the line and `OFFSET_M` beside it, its steepness there and beside, and what the file itself recorded.
 * Heights are `null` where the tiles do not know; nothing is filled in here.
 */
export async function drape(track: Track, surface: Surface): Promise<ElevatedTrack> {
  const laid = track.segments.map((points): Laid => {
    const line = measured(points);
    const at = stations(line, STATION_SPACING_M);
    const beside = sides(line, at);
    return { at, beside, windows: slopeWindows(at, beside, surface.sources) };
  });
  // One call for the line, its sides and the windows, so that each block of terrain is read once.
  const lons = joined(
    laid.flatMap(({ at, beside, windows }) => [
      at.lonDeg,
      beside.leftLonDeg,
      beside.rightLonDeg,
      windows.lonDeg,
    ]),
  );
  const lats = joined(
    laid.flatMap(({ at, beside, windows }) => [
      at.latDeg,
      beside.leftLatDeg,
      beside.rightLatDeg,
      windows.latDeg,
    ]),
  );
  const samples = await surface.heightsAt(lons, lats);

  const segments: ElevatedSegment[] = [];
  const answered = new Map<number, number>();
  let startM = 0;
  let knownM = 0;
  let read = 0;
  let count = 0;
  for (const { at, windows } of laid) {
    const n = at.distanceM.length;
    const firstWindow = read + 3 * n;
    const groundM = samples.heightsM.slice(read, read + n);
    countSources(samples, read, n, answered);
    segments.push({
      distanceM: at.distanceM.map((d) => startM + d),
      lonDeg: at.lonDeg,
      latDeg: at.latDeg,
      groundM,
      leftM: samples.heightsM.slice(read + n, read + 2 * n),
      rightM: samples.heightsM.slice(read + 2 * n, read + 3 * n),
      slopes: groundSlopes(windows, (index) => samples.heightsM[firstWindow + index] ?? null),
      recordedM: at.recordedM,
      timeMs: at.timeMs,
    });
    knownM += knownLengthM(at.lengthM, groundM);
    startM += at.lengthM;
    read += (3 + PLACES_EACH) * n;
    count += n;
  }
  return {
    track,
    segments,
    lengthM: startM,
    coverage: startM > 0 ? Math.min(1, knownM / startM) : 0,
    sources: [...answered]
      .sort(([a], [b]) => a - b)
      .flatMap(([index, stationsAnswered]) => {
        const tile = surface.sources[index];
        return tile === undefined ? [] : [{ tile, share: stationsAnswered / count }];
      }),
  };
}

function joined(parts: readonly ArrayLike<number>[]): Float64Array {
  const all = new Float64Array(parts.reduce((count, part) => count + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** A step counts as known where the ground at both its ends is. Steps are equal, so the share is a count, and exact. */
function knownLengthM(lengthM: number, groundM: readonly (number | null)[]): number {
  const steps = groundM.length - 1;
  let known = 0;
  for (let i = 1; i <= steps; i += 1)
    if ((groundM[i - 1] ?? null) !== null && (groundM[i] ?? null) !== null) known += 1;
  return known === steps ? lengthM : (lengthM * known) / steps;
}

function countSources(
  samples: HeightSamples,
  first: number,
  count: number,
  answered: Map<number, number>,
): void {
  for (let i = first; i < first + count; i += 1) {
    const source = samples.sourceIndexes[i] ?? null;
    if (source !== null) answered.set(source, (answered.get(source) ?? 0) + 1);
  }
}
