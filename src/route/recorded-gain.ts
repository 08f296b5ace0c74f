import { at } from '../array.ts';
import type { Design } from '../design.ts';
import type { ElevatedSegment } from '../terrain/elevated-track.ts';
import { always, climbOf, type Trace, traceOf } from './trace.ts';

/** Climb and drop by the heights written in the file, by the same method as ours, metres. A second reading: it decides nothing. */
export interface RecordedGain {
  readonly gainM: number;
  readonly lossM: number;
}

/** Share of the stations that must have a recorded height for their sum to mean anything (design). */
const LEAST_SHARE = 0.95;

/** What the recorded heights of a file climb and drop; `null` where it has none, or they are missing on part of the line. */
export function recordedGain(
  segments: readonly ElevatedSegment[],
  design: Design['gain'],
): RecordedGain | null {
  const stations = segments.flatMap(({ recordedM }) => recordedM);
  const known = stations.filter((height) => height !== null).length;
  if (stations.length === 0 || known / stations.length < LEAST_SHARE) return null;
  const traces = segments.flatMap(({ recordedM, distanceM }): Trace[] => {
    const heights = recordedM.filter((height) => height !== null);
    const spacingM = heights.length < 2 ? 0 : at(distanceM, 1) - at(distanceM, 0);
    const counted = always(design.turningPointM);
    return spacingM > 0 ? [traceOf(heights, spacingM, design.windowM, counted)] : [];
  });
  const { gain, loss } = climbOf(traces);
  return { gainM: gain, lossM: loss };
}
