import { destination, type Place } from '../../../src/earth/geodesic.ts';
import type { Track, TrackPoint } from '../../../src/ingest/track.ts';
import { SOMEWHERE } from '../../support/elevated.ts';

export const START_MS = Date.UTC(2026, 5, 20, 8);

/** Minutes at a speed (m/s) on a bearing; speed 0 is a stand in which the receiver wanders by some metres. */
export interface Leg {
  readonly minutes: number;
  readonly speedMs: number;
  readonly bearingDeg?: number;
  /** Height gained a second, as recorded. Without it nothing is. */
  readonly riseMs?: number;
}

/** A recording with a point every ten seconds. Deterministic: the wander at rest is a small fixed circle. */
export function recorded(legs: readonly Leg[], from: Place = SOMEWHERE, startMs = START_MS): Track {
  const hasHeights = legs.some(({ riseMs }) => riseMs !== undefined);
  let elevationM = hasHeights ? 1000 : null;
  const points: TrackPoint[] = [{ ...from, elevationM, timeMs: startMs }];
  let place = from;
  let ms = startMs;
  for (const { minutes, speedMs, bearingDeg = 90, riseMs = 0 } of legs) {
    const rest = place;
    for (let i = 1; i <= minutes * 6; i += 1) {
      ms += 10_000;
      place =
        speedMs > 0
          ? destination(place, bearingDeg, speedMs * 10)
          : destination(rest, 40 * i, 1 + (i % 3) * 0.3);
      if (elevationM !== null) elevationM += riseMs * 10;
      points.push({ ...place, elevationM, timeMs: ms });
    }
  }
  return { name: 'Recorded', segments: [points], waypoints: [], attributes: null, notes: [] };
}

export const WALK: Leg = { minutes: 90, speedMs: 1.1 };
export const DRIVE: Leg = { minutes: 12, speedMs: 20 / 3.6 };
