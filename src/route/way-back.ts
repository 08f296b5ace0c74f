import type { ElevatedSegment, ElevatedTrack } from '../terrain/elevated-track.ts';
import type { Run } from './runs.ts';

/** A one-way line whose end lies within this share of its relief below its top ends at the top (design). */
const TOP_SHARE = 0.1;
/** Relief from which a line that ends at its top counts as a way up only, metres (design). */
const LEAST_RELIEF_M = 100;

/** Whether a one-way line stops at its top: somebody still has to walk down. */
export function endsAtTop(runs: readonly Pick<Run, 'groundM'>[]): boolean {
  const heights = runs.flatMap((run) => run.groundM);
  const first = heights[0];
  const last = heights.at(-1);
  if (first === undefined || last === undefined) return false;
  const top = heights.reduce((most, height) => Math.max(most, height), first);
  const relief = top - first;
  return relief >= LEAST_RELIEF_M && top - last <= TOP_SHARE * relief;
}

/** Whether a one-way line starts at its top and climbs no hill of its own: somebody had to walk up first. */
export function beginsAtTop(runs: readonly Run[], gainM: number): boolean {
  return (
    gainM < LEAST_RELIEF_M &&
    endsAtTop(runs.toReversed().map(({ groundM }) => ({ groundM: groundM.toReversed() })))
  );
}

function reversed(segment: ElevatedSegment, lengthM: number): ElevatedSegment {
  const { slopes } = segment;
  return {
    distanceM: segment.distanceM.toReversed().map((distance) => 2 * lengthM - distance),
    lonDeg: segment.lonDeg.toReversed(),
    latDeg: segment.latDeg.toReversed(),
    groundM: segment.groundM.toReversed(),
    leftM: segment.rightM.toReversed(),
    rightM: segment.leftM.toReversed(),
    slopes: {
      onDeg: slopes.onDeg.toReversed(),
      besideDeg: slopes.besideDeg.toReversed(),
      aboveDeg: slopes.aboveDeg.toReversed(),
    },
    recordedM: segment.recordedM.toReversed(),
    timeMs: segment.timeMs.map(() => null),
  };
}

/** The same line walked up and back down, with a note that the way back was assumed. */
export function withWayBack(elevated: ElevatedTrack): ElevatedTrack {
  const { track, segments, lengthM, sources } = elevated;
  return {
    ...elevated,
    track: {
      ...track,
      segments: [...track.segments, ...track.segments.toReversed().map((points) => points.toReversed())],
      notes: [...track.notes, { code: 'way-back-assumed', values: {} }],
    },
    segments: [...segments, ...segments.toReversed().map((segment) => reversed(segment, lengthM))],
    lengthM: 2 * lengthM,
    sources: sources.map(({ stretches, ...source }) => ({
      ...source,
      stretches: [
        ...stretches,
        ...stretches.toReversed().map(([from, to]) => [2 * lengthM - to, 2 * lengthM - from] as const),
      ],
    })),
  };
}
