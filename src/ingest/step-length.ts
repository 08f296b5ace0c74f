import { geodesicM, type Place } from '../earth/geodesic.ts';
import { localScale } from '../earth/local-scale.ts';

/**
 * Length of one step of a line, metres, for the reader's limits and thresholds; a difference of
 * longitude of a whole turn does not count. Flat about the middle latitude; for steps under 0.05 degrees
 * below 80 degrees of latitude a test holds it within 1e-5 of the geodesic, which is used elsewhere.
 * It takes about a fifteenth of the geodesic's time, and a file may hold 200,000 steps.
 */
export function stepM(from: Place, to: Place): number {
  const dLatDeg = to.latDeg - from.latDeg;
  let dLonDeg = to.lonDeg - from.lonDeg;
  if (Math.abs(dLonDeg) > 180) dLonDeg -= 360 * Math.round(dLonDeg / 360);
  if (dLatDeg === 0 && dLonDeg === 0) return 0;
  const midDeg = (from.latDeg + to.latDeg) / 2;
  if (Math.abs(dLatDeg) > 0.05 || Math.abs(dLonDeg) > 0.05 || Math.abs(midDeg) > 80) {
    return geodesicM(from, to);
  }
  const { mPerDegLat, mPerDegLon } = localScale(midDeg);
  return Math.hypot(mPerDegLat * dLatDeg, mPerDegLon * dLonDeg);
}

/** Lengths of all steps of some lines, one after the other, metres. */
export function stepsM(lines: readonly (readonly Place[])[]): Float64Array {
  const steps = new Float64Array(lines.reduce((sum, { length }) => sum + Math.max(0, length - 1), 0));
  let filled = 0;
  for (const points of lines) {
    let from: Place | null = null;
    for (const to of points) {
      if (from !== null) {
        steps[filled] = stepM(from, to);
        filled += 1;
      }
      from = to;
    }
  }
  return steps;
}
