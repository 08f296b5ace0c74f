import { upperMedian } from '../array.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { INGEST_LIMITS } from './limits.ts';
import { pointCount, pointPlace, type RawPoint, type RawTrack, type WorkSegment } from './raw-track.ts';
import { stepM, stepsM } from './step-length.ts';

interface JumpRepair {
  readonly segments: readonly WorkSegment[];
  readonly dropped: number;
  /** Straight legs over the limit in a drawn, otherwise dense line: kept. */
  readonly longLegs: number;
}

/**
 * Drops single bad fixes: points so far from where the line goes on that the line's own spacing
 * rules them out. In a recording the first or last point may be one too.
 *
 * @param fastestMs a recording that may hold a drive: a long step between two times that was covered no faster stays,
 * for whoever cuts the drive off; `null`: none does
 * @throws EngineError `implausible-jump` where more than single points are out of place.
 */
export function dropBadFixes(
  kind: RawTrack['kind'],
  segments: readonly WorkSegment[],
  fastestMs: number | null = null,
): JumpRepair {
  const steps = stepsM(segments.map(({ points }) => points));
  if (steps.length === 0) return { segments, dropped: 0, longLegs: 0 };
  const medianM = upperMedian(steps);
  const dense = medianM < INGEST_LIMITS.jumpSpacingM;
  const { jumpM } = INGEST_LIMITS;
  const limitM = dense ? jumpM : Math.max(jumpM, INGEST_LIMITS.jumpTimesSpacing * medianM);
  if (steps.every((length) => length <= limitM)) return { segments, dropped: 0, longLegs: 0 };

  // A drawn line may cross a lake or a snowfield in one straight leg; a recording may not.
  const legLimitM =
    kind === 'recorded' ? limitM : dense ? INGEST_LIMITS.drawnLegMaxM : Number.POSITIVE_INFINITY;
  const mayDrop = Math.max(1, Math.floor(pointCount(segments) * INGEST_LIMITS.jumpShare));
  let dropped = 0;
  let longLegs = 0;
  const repaired = segments.map((segment): WorkSegment => {
    const kept: RawPoint[] = [];
    for (const [i, point] of segment.points.entries()) {
      const last = kept.at(-1);
      const legM = last === undefined ? 0 : stepM(last, point);
      if (last === undefined || legM <= limitM || isTimedStep(last, point, legM, fastestMs)) {
        kept.push(point);
        continue;
      }
      const next = segment.points[i + 1];
      const pointIsBad = next === undefined ? kind === 'recorded' : stepM(last, next) <= limitM;
      const startIsBad =
        kind === 'recorded' && kept.length === 1 && next !== undefined && stepM(point, next) <= limitM;
      if (pointIsBad || startIsBad) {
        dropped += 1;
        if (dropped > mayDrop) throw jump(pointPlace(segment, point), legM, limitM);
        if (!pointIsBad) kept.splice(0, 1, point);
      } else if (legM <= legLimitM) {
        longLegs += 1;
        kept.push(point);
      } else {
        throw jump(pointPlace(segment, point), legM, limitM);
      }
    }
    return { ...segment, points: kept };
  });
  return { segments: repaired, dropped, longLegs: dense ? longLegs : 0 };
}

function isTimedStep(from: RawPoint, to: RawPoint, lengthM: number, fastestMs: number | null): boolean {
  if (fastestMs === null || from.timeMs === null || to.timeMs === null) return false;
  return to.timeMs > from.timeMs && lengthM <= (fastestMs * (to.timeMs - from.timeMs)) / 1000;
}

function jump(pointer: string, legM: number, limitM: number): EngineError {
  return new EngineError(
    'implausible-jump',
    message`The line jumps ${{ lengthM: Math.round(legM) }} at ${pointer}, far more than its points are apart elsewhere. Remove the bad points, or start a new segment there.`,
    { pointer, limit: Math.round(limitM), found: Math.round(legM) },
  );
}
