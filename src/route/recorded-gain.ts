import { at } from '../array.ts';
import type { Design } from '../design.ts';
import type { ElevatedSegment } from '../terrain/elevated-track.ts';
import { traceOf } from './trace.ts';

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
  let [gainM, lossM, known, count] = [0, 0, 0, 0];
  for (const { recordedM, distanceM } of segments) {
    const heights = recordedM.filter((height) => height !== null);
    count += recordedM.length;
    known += heights.length;
    if (heights.length < 2) continue;
    const spacingM = at(distanceM, 1) - at(distanceM, 0);
    if (!(spacingM > 0)) continue;
    const trace = traceOf(heights, spacingM, design.windowM, {
      leastM: design.turningPointM,
      clearM: design.turningPointM,
      restored: 0,
    });
    trace.turns.slice(1).forEach((turn, i) => {
      const rise = at(trace.heightsM, turn) - at(trace.heightsM, at(trace.turns, i));
      gainM += Math.max(0, rise);
      lossM += Math.max(0, -rise);
    });
  }
  return count > 0 && known / count >= LEAST_SHARE ? { gainM, lossM } : null;
}
