import type { Track } from '../ingest/track.ts';
import {
  type ElevatedSegment,
  type ElevatedTrack,
  STATION_SPACING_M,
  type Stretch,
} from './elevated-track.ts';
import { groundSlopes, PLACES_EACH, type SlopeWindows, slopeWindows } from './ground-slopes.ts';
import { measured, type Sides, type Stations, sides, stations } from './stations.ts';
import type { Surface } from './surface.ts';

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
  const answered = new Map<number, Answered>();
  let startM = 0;
  let knownM = 0;
  let read = 0;
  let count = 0;
  for (const { at, windows } of laid) {
    const n = at.distanceM.length;
    const firstWindow = read + 3 * n;
    const groundM = samples.heightsM.slice(read, read + n);
    countSources(
      samples.sourceIndexes.slice(read, read + n),
      at.distanceM.map((d) => startM + d),
      answered,
    );
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
      .flatMap(([index, { stations: known, stretches }]) => {
        const tile = surface.sources[index];
        return tile === undefined ? [] : [{ tile, share: known / count, stretches }];
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

interface Answered {
  stations: number;
  readonly stretches: Stretch[];
}

/** Adds one segment's stations to what each tile answered. */
function countSources(
  sourceIndexes: readonly (number | null)[],
  distanceM: readonly number[],
  answered: Map<number, Answered>,
): void {
  const between = (i: number): number => ((distanceM[i] ?? 0) + (distanceM[i + 1] ?? distanceM[i] ?? 0)) / 2;
  for (let i = 0; i < sourceIndexes.length; ) {
    const source = sourceIndexes[i] ?? null;
    let last = i;
    while (last + 1 < sourceIndexes.length && (sourceIndexes[last + 1] ?? null) === source) last += 1;
    if (source !== null) {
      const of = answered.get(source) ?? { stations: 0, stretches: [] };
      of.stations += last - i + 1;
      of.stretches.push([i === 0 ? (distanceM[0] ?? 0) : between(i - 1), between(last)]);
      answered.set(source, of);
    }
    i = last + 1;
  }
}
