import { at, last } from '../array.ts';
import type { Place } from '../earth/geodesic.ts';
import { cumulativeM } from '../earth/line.ts';
import { localScale } from '../earth/local-scale.ts';
import type { TrackPoint } from '../ingest/track.ts';
import { OFFSET_M } from './elevated-track.ts';

/** Stations at equal steps along one stretch, both ends included; one entry a station. */
export interface Stations extends Places {
  readonly lengthM: number;
  /** From the start of the stretch, metres. */
  readonly distanceM: readonly number[];
  readonly recordedM: readonly (number | null)[];
  readonly timeMs: readonly (number | null)[];
}

/** A line with the distance of each point from its start, metres on the ellipsoid. */
export interface MeasuredLine {
  readonly points: readonly TrackPoint[];
  readonly alongM: readonly number[];
}

export const measured = (points: readonly TrackPoint[]): MeasuredLine => ({
  points,
  alongM: cumulativeM(points),
});

/** Walks forward along a line: asked for growing distances, it gives the leg and the share of it. */
function legWalker({ points, alongM }: MeasuredLine) {
  let leg = 0;
  return (distanceM: number): { from: TrackPoint; to: TrackPoint; share: number } => {
    while (leg < points.length - 2 && at(alongM, leg + 1) < distanceM) leg += 1;
    const from = at(points, leg);
    const to = at(points, leg + 1);
    const startM = at(alongM, leg);
    const legM = at(alongM, leg + 1) - startM;
    const share = legM > 0 ? Math.min(1, Math.max(0, (distanceM - startM) / legM)) : 0;
    return { from, to, share };
  };
}

function between(from: number, to: number, share: number): number {
  return share === 1 ? to : from + (to - from) * share;
}

/** As `between`; `null` where a neighbour that has weight has none. */
function betweenKnown(from: number | null, to: number | null, share: number): number | null {
  if (share === 0) return from;
  if (share === 1) return to;
  return from === null || to === null ? null : between(from, to, share);
}

/**
 * Stations at equal steps of at most `spacingM` along a stretch, by linear interpolation between its points.
 * A recorded height or time is `null` where either neighbour on the line has none.
 */
export function stationsOf(line: MeasuredLine, spacingM: number): Stations {
  const lengthM = last(line.alongM);
  const steps = Math.max(1, Math.ceil(lengthM / spacingM));
  const walk = legWalker(line);
  const distanceM: number[] = [];
  const lonDeg: number[] = [];
  const latDeg: number[] = [];
  const recordedM: (number | null)[] = [];
  const timeMs: (number | null)[] = [];
  for (let i = 0; i <= steps; i += 1) {
    const hereM = i === steps ? lengthM : (lengthM * i) / steps;
    const { from, to, share } = walk(hereM);
    distanceM.push(hereM);
    lonDeg.push(between(from.lonDeg, to.lonDeg, share));
    latDeg.push(between(from.latDeg, to.latDeg, share));
    recordedM.push(betweenKnown(from.elevationM, to.elevationM, share));
    timeMs.push(betweenKnown(from.timeMs, to.timeMs, share));
  }
  return { lengthM, distanceM, lonDeg, latDeg, recordedM, timeMs };
}

/** Half the stretch over which the line's direction is taken, metres (design: longer than a receiver's jitter, shorter than a switchback). */
const DIRECTION_REACH_M = 30;

export interface Places {
  readonly lonDeg: readonly number[];
  readonly latDeg: readonly number[];
}

/** Places `OFFSET_M` to the left and right of each station, square to the line's direction there. */
export function sidesOf(
  line: MeasuredLine,
  stations: Stations,
): { readonly left: Places; readonly right: Places } {
  const behind = legWalker(line);
  const here = legWalker(line);
  const ahead = legWalker(line);
  const left = { lonDeg: [] as number[], latDeg: [] as number[] };
  const right = { lonDeg: [] as number[], latDeg: [] as number[] };
  stations.distanceM.forEach((distanceM, i) => {
    const lonDeg = at(stations.lonDeg, i);
    const latDeg = at(stations.latDeg, i);
    const { mPerDegLon, mPerDegLat } = localScale(latDeg);
    const direction = (from: Place, to: Place) => {
      const eastM = (to.lonDeg - from.lonDeg) * mPerDegLon;
      const northM = (to.latDeg - from.latDeg) * mPerDegLat;
      return { eastM, northM, lengthM: Math.hypot(eastM, northM) };
    };
    const back = placeOn(behind(Math.max(0, distanceM - DIRECTION_REACH_M)));
    const front = placeOn(ahead(Math.min(stations.lengthM, distanceM + DIRECTION_REACH_M)));
    const leg = here(distanceM);
    const about = direction(back, front);
    // At the turning point of an out-and-back the two ends meet: the leg itself has a direction.
    const { eastM, northM, lengthM } = about.lengthM < 1 ? direction(leg.from, leg.to) : about;
    const unit = lengthM > 0 ? OFFSET_M / lengthM : 0;
    // Near a pole a degree of longitude is nothing: stay on the line there.
    const lonStep = mPerDegLon > 1 ? (-northM * unit) / mPerDegLon : 0;
    const latStep = (eastM * unit) / mPerDegLat;
    left.lonDeg.push(lonDeg + lonStep);
    left.latDeg.push(latDeg + latStep);
    right.lonDeg.push(lonDeg - lonStep);
    right.latDeg.push(latDeg - latStep);
  });
  return { left, right };
}

const placeOn = ({ from, to, share }: { from: Place; to: Place; share: number }): Place => ({
  lonDeg: between(from.lonDeg, to.lonDeg, share),
  latDeg: between(from.latDeg, to.latDeg, share),
});
