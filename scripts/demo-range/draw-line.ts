import { findWay } from './find-way.ts';
import type { Spot } from './frame.ts';
import { roundCorners } from './line.ts';
import { type LinePlan, spotOf } from './route-plan.ts';
import type { Terrain } from './terrain.ts';

// How much lines keep to ridges and shoulders (design).
const RIDGE_LOVE = 0.2;

/** The line from the first stop to the last; of an out-and-back the way out alone. */
export function drawLine(terrain: Terrain, plan: LinePlan): readonly Spot[] {
  const spots = plan.stops.map((stop) => spotOf(terrain, stop));
  const corners: Spot[] = [];
  for (const [k, spot] of spots.entries()) {
    const before = spots[k - 1];
    if (before === undefined) continue;
    const way = findWay(terrain, before, spot, { steadyGrade: plan.steadyGrade, ridgeLove: RIDGE_LOVE });
    corners.push(...(k === 1 ? way : way.slice(1)));
  }
  return roundCorners(corners, 3);
}
