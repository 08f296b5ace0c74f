import type { Place } from '../earth/geodesic.ts';
import type { Route } from './describe-route.ts';
import { heightsAlong, linePointsOf, placeAt } from './place-at.ts';

/** A step of the way, for reading along it. Metres; `null` is "not known". */
export interface AlongPlace extends Place {
  readonly distanceM: number;
  readonly heightM: number | null;
  /** Rise over run in the direction of the walk; negative goes down. */
  readonly slopeRatio: number | null;
}

/** So many places at most, and none nearer to each other than this (design). */
const MOST = 240;
const LEAST_STEP_M = 20;
/** A slope is taken over so much before and after a place, metres (design: below that the tiles say little). */
const SLOPE_REACH_M = 50;

/** Places at even steps along a route, both ends among them. */
export function alongRoute(route: Pick<Route, 'line' | 'profile' | 'measures'>): AlongPlace[] {
  const { distanceM: lengthM } = route.measures;
  const line = linePointsOf(route);
  if (line.points.length === 0) return [];
  const heightAt = heightsAlong(route.profile);
  const steps = Math.max(1, Math.min(MOST, Math.floor(lengthM / LEAST_STEP_M)));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const distanceM = (lengthM * i) / steps;
    const fromM = Math.max(0, distanceM - SLOPE_REACH_M);
    const toM = Math.min(lengthM, distanceM + SLOPE_REACH_M);
    const [from, to] = [heightAt(fromM), heightAt(toM)];
    return {
      ...placeAt(line, distanceM),
      distanceM,
      heightM: heightAt(distanceM),
      slopeRatio: from === null || to === null || toM <= fromM ? null : (to - from) / (toM - fromM),
    };
  });
}
