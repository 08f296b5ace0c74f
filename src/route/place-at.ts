import { geodesicM, type Place } from '../earth/geodesic.ts';
import { localScale } from '../terrain/local-scale.ts';
import type { Route } from './describe-route.ts';

/** A line's points with their distance along it, metres. A gap between segments has no length. */
export interface LinePoints {
  readonly points: readonly Place[];
  readonly distanceM: readonly number[];
}

/** The points of a route's line by distance along it, geodesics on WGS 84: the distances of its profile and pieces. */
export function linePointsOf(route: Pick<Route, 'line'>): LinePoints {
  const points: Place[] = [];
  const distanceM: number[] = [];
  let alongM = 0;
  for (const segment of route.line) {
    let before: Place | null = null;
    for (const [lonDeg, latDeg] of segment) {
      const point = { lonDeg, latDeg };
      if (before !== null) alongM += geodesicM(before, point);
      points.push(point);
      distanceM.push(alongM);
      before = point;
    }
  }
  return { points, distanceM };
}

/** Index of the last value that is not above `value` in a rising list; 0 where all are. */
function lastNotAbove(rising: readonly number[], value: number): number {
  let low = 0;
  let high = rising.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((rising[middle] ?? 0) <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * Where the line is after so many metres; its ends beyond them. Between two points of the line it goes straight in
 * degrees, which at their spacing is the geodesic to a centimetre.
 * @throws RangeError on a line without points.
 */
export function placeAt({ points, distanceM }: LinePoints, atM: number): Place {
  const i = lastNotAbove(distanceM, atM);
  const from = points[i];
  if (from === undefined) throw new RangeError('a line without points has no places');
  const to = points[i + 1];
  const fromM = distanceM[i] ?? 0;
  const stepM = (distanceM[i + 1] ?? fromM) - fromM;
  if (to === undefined || stepM <= 0 || atM <= fromM) return from;
  const share = (atM - fromM) / stepM;
  return {
    lonDeg: from.lonDeg + share * (to.lonDeg - from.lonDeg),
    latDeg: from.latDeg + share * (to.latDeg - from.latDeg),
  };
}

/** Height of the ground after so many metres, from the route's profile; `null` where it is not known. */
export function elevationAt(profile: Route['profile'], atM: number): number | null {
  const i = lastNotAbove(
    profile.map(([distanceM]) => distanceM),
    atM,
  );
  const [fromM, fromHeightM] = profile[i] ?? [0, null];
  const [toM, toHeightM] = profile[i + 1] ?? [fromM, fromHeightM];
  if (fromHeightM === null || toM <= fromM || atM <= fromM) return fromHeightM;
  if (toHeightM === null) return null;
  return fromHeightM + ((atM - fromM) / (toM - fromM)) * (toHeightM - fromHeightM);
}

/** A time that the line comes close to a place. */
export interface Pass {
  readonly atM: number;
  /** How far off the line the place lies, metres. */
  readonly offM: number;
}

/** Distances are compared on a plane about the place: good to 0.1 % over the metres asked about. */
const LOOK_EVERY_M = 10;

/**
 * Each time the line passes within `withinM` of a place, at its nearest; passes less than `apartM` of walking apart
 * are one.
 */
export function passesOf(line: LinePoints, place: Place, withinM: number, apartM: number): Pass[] {
  const scale = localScale(place.latDeg);
  const offAt = (atM: number): number => {
    const { lonDeg, latDeg } = placeAt(line, atM);
    const eastDeg = lonDeg - place.lonDeg - 360 * Math.round((lonDeg - place.lonDeg) / 360);
    return Math.hypot(eastDeg * scale.mPerDegLon, (latDeg - place.latDeg) * scale.mPerDegLat);
  };
  const lengthM = line.distanceM.at(-1) ?? 0;
  const passes: Pass[] = [];
  for (let step = 0; step <= Math.ceil(lengthM / LOOK_EVERY_M); step += 1) {
    const atM = Math.min(lengthM, step * LOOK_EVERY_M);
    const offM = offAt(atM);
    if (offM > withinM) continue;
    const last = passes.at(-1);
    if (last === undefined || atM - last.atM >= apartM) passes.push({ atM, offM });
    else if (offM < last.offM) passes[passes.length - 1] = { atM, offM };
  }
  return passes;
}
