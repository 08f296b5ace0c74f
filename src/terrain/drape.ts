import { at } from '../array.ts';
import type { Track } from '../ingest/track.ts';
import {
  type ElevatedSegment,
  type ElevatedTrack,
  STATION_SPACING_M,
  type Stretch,
} from './elevated-track.ts';
import { groundSlopes, PLACES_EACH, slopeWindows } from './ground-slopes.ts';
import { measured, sidesOf, stationsOf } from './stations.ts';
import type { Surface } from './surface.ts';

/**
 * Lays a track on the terrain: stations at equal steps of at most `STATION_SPACING_M`, with the ground's
 * height under the line and `OFFSET_M` beside it, its steepness there and beside, and what the file itself recorded.
 * Heights are `null` where the tiles do not know; nothing is filled in here.
 */
export async function drape(track: Track, surface: Surface): Promise<ElevatedTrack> {
  const laid = track.segments.map((points) => {
    const line = measured(points);
    const stations = stationsOf(line, STATION_SPACING_M);
    const { left, right } = sidesOf(line, stations);
    return { stations, left, right, windows: slopeWindows(stations, left, surface.sources) };
  });
  // One call for the line, its sides and the windows, so that each block of terrain is read once.
  const parts = laid.flatMap(({ stations, left, right, windows }) => [stations, left, right, windows]);
  const lons = joined(parts.map(({ lonDeg }) => lonDeg));
  const lats = joined(parts.map(({ latDeg }) => latDeg));
  const samples = await surface.heightsAt(lons, lats);

  const segments: ElevatedSegment[] = [];
  const answered = new Map<number, Answered>();
  let startM = 0;
  let knownM = 0;
  let read = 0;
  let count = 0;
  for (const { stations, windows } of laid) {
    const n = stations.distanceM.length;
    const [leftAt, rightAt, windowsAt] = [read + n, read + 2 * n, read + 3 * n];
    const groundM = samples.heightsM.slice(read, leftAt);
    const { lengthM, distanceM: fromStartM, ...along } = stations;
    const distanceM = fromStartM.map((metres) => startM + metres);
    countSources(samples.sourceIndexes.slice(read, leftAt), distanceM, answered);
    segments.push({
      ...along,
      distanceM,
      groundM,
      leftM: samples.heightsM.slice(leftAt, rightAt),
      rightM: samples.heightsM.slice(rightAt, windowsAt),
      slopes: groundSlopes(windows, (index) => at(samples.heightsM, windowsAt + index)),
    });
    knownM += knownLengthM(lengthM, groundM);
    startM += lengthM;
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
      .map(([index, { stations: known, stretches }]) => {
        return { tile: at(surface.sources, index), share: known / count, stretches };
      }),
  };
}

function joined(parts: readonly ArrayLike<number>[]): Float64Array {
  const all = new Float64Array(parts.reduce((count, part) => count + part.length, 0));
  let filled = 0;
  for (const part of parts) {
    all.set(part, filled);
    filled += part.length;
  }
  return all;
}

/** A step counts as known where the ground at both its ends is. Steps are equal, so the share is a count, and exact. */
function knownLengthM(lengthM: number, groundM: readonly (number | null)[]): number {
  const steps = groundM.length - 1;
  let known = 0;
  for (let i = 1; i <= steps; i += 1) if (at(groundM, i - 1) !== null && at(groundM, i) !== null) known += 1;
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
  const between = (i: number): number => (at(distanceM, i) + (distanceM[i + 1] ?? at(distanceM, i))) / 2;
  for (let i = 0; i < sourceIndexes.length; ) {
    const source = sourceIndexes[i] ?? null;
    let last = i;
    while (last + 1 < sourceIndexes.length && (sourceIndexes[last + 1] ?? null) === source) last += 1;
    if (source !== null) {
      const answers = answered.get(source) ?? { stations: 0, stretches: [] };
      answers.stations += last - i + 1;
      answers.stretches.push([i === 0 ? at(distanceM, 0) : between(i - 1), between(last)]);
      answered.set(source, answers);
    }
    i = last + 1;
  }
}
