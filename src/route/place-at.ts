import { at } from '../array.ts';
import { geodesicM, type Place } from '../earth/geodesic.ts';
import { localScale } from '../earth/local-scale.ts';
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
export function lastNotAbove(rising: readonly number[], value: number): number {
  let low = 0;
  let high = rising.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (at(rising, middle) <= value) low = middle;
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
  const fromM = at(distanceM, i);
  const stepM = (distanceM[i + 1] ?? fromM) - fromM;
  if (to === undefined || stepM <= 0 || atM <= fromM) return from;
  const share = (atM - fromM) / stepM;
  return {
    lonDeg: from.lonDeg + share * (to.lonDeg - from.lonDeg),
    latDeg: from.latDeg + share * (to.latDeg - from.latDeg),
  };
}

/** Heights of the ground by distance along a route, from its profile; `null` where they are not known. */
export function heightsAlong(profile: Route['profile']): (atM: number) => number | null {
  const distances = profile.map(([distanceM]) => distanceM);
  return (atM) => {
    const i = lastNotAbove(distances, atM);
    const [fromM, fromHeightM] = profile[i] ?? [0, null];
    const [toM, toHeightM] = profile[i + 1] ?? [fromM, fromHeightM];
    if (fromHeightM === null || toM <= fromM || atM <= fromM) return fromHeightM;
    if (toHeightM === null) return null;
    return fromHeightM + ((atM - fromM) / (toM - fromM)) * (toHeightM - fromHeightM);
  };
}

/** A time that the line comes close to a place. */
export interface Pass {
  readonly atM: number;
  /** How far off the line the place lies, metres. */
  readonly offM: number;
}

/**
 * Each time the line passes within `withinM` of a place, at its nearest, on a plane about the place (good to 0.1 % over
 * the metres asked about). A pass lasts until the line leaves the reach, or goes half of the reach farther off than its
 * nearest; passes less than `apartM` of walking apart are one.
 */
export function passesOf(line: LinePoints, place: Place, withinM: number, apartM: number): Pass[] {
  const { mPerDegLon, mPerDegLat } = localScale(place.latDeg);
  const passes: Pass[] = [];
  let pass: Pass | null = null;
  let farthestM = Number.POSITIVE_INFINITY;
  const end = (): void => {
    const last = passes.at(-1);
    if (pass === null) return;
    if (last === undefined || pass.atM - last.atM >= apartM) passes.push(pass);
    else if (pass.offM < last.offM) passes[passes.length - 1] = pass;
    pass = null;
  };
  const look = (atM: number, offM: number): void => {
    if (pass !== null && offM > Math.min(withinM, pass.offM + withinM / 2)) {
      end();
      farthestM = offM;
    } else if (pass === null) {
      farthestM = Math.max(farthestM, offM);
      const comes = offM <= withinM && (farthestM > withinM || offM <= farthestM - withinM / 2);
      if (comes) pass = { atM, offM };
    } else if (offM < pass.offM) {
      pass = { atM, offM };
    }
  };
  let before = { eastM: 0, northM: 0, atM: Number.POSITIVE_INFINITY };
  line.points.forEach(({ lonDeg, latDeg }, i) => {
    const eastDeg = lonDeg - place.lonDeg;
    const here = {
      eastM: (eastDeg - 360 * Math.round(eastDeg / 360)) * mPerDegLon,
      northM: (latDeg - place.latDeg) * mPerDegLat,
      atM: at(line.distanceM, i),
    };
    // From the point before to this one, unless there is a gap between them: where on it the place is nearest.
    if (here.atM > before.atM) {
      const east = here.eastM - before.eastM;
      const north = here.northM - before.northM;
      const share = -(before.eastM * east + before.northM * north) / (east ** 2 + north ** 2);
      if (share > 0 && share < 1) {
        const offM = Math.hypot(before.eastM + share * east, before.northM + share * north);
        look(before.atM + share * (here.atM - before.atM), offM);
      }
    }
    look(here.atM, Math.hypot(here.eastM, here.northM));
    before = here;
  });
  end();
  return passes;
}
