import { geodesicM, type Place } from '../earth/geodesic.ts';
import type { StoredRoute } from '../storage/routes.ts';

/** Routes that a plan looks through at most, for its lower choice and for training: it stays quick (design). */
export const MOST_KNOWN = 200;

/** The routes whose trailheads lie nearest to a place, the nearest first. */
export function nearestTo(
  place: Place,
  routes: readonly StoredRoute[],
  most: number = MOST_KNOWN,
): readonly StoredRoute[] {
  return routes
    .map((stored) => ({ stored, awayM: geodesicM(place, stored.route.trailhead) }))
    .sort((a, b) => a.awayM - b.awayM)
    .slice(0, most)
    .map(({ stored }) => stored);
}
