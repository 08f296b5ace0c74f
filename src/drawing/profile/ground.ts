import { at, last } from '../../array.ts';
import type { ProfileDrawing } from './profile-drawing.ts';

export type Point = ProfileDrawing['points'][number];

type Points = readonly Point[];

/**
 * Points thinned to about `most`: of each stretch its lowest and highest are kept in their order, so that no top or
 * pass is lost, and the first point of every gap.
 */
export function thinned(points: Points, most: number): Points {
  const size = Math.ceil((2 * points.length) / most);
  if (size <= 2) return points;
  const kept: Point[] = [];
  for (let start = 0; start < points.length; start += size) {
    const stretch = points.slice(start, start + size);
    const gap = stretch.findIndex(([, heightM]) => heightM === null);
    let [low, high] = [-1, -1];
    let [lowM, highM] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    stretch.forEach(([, heightM], i) => {
      if (heightM === null) return;
      if (heightM < lowM) [low, lowM] = [i, heightM];
      if (heightM > highM) [high, highM] = [i, heightM];
    });
    const ends = start === 0 ? [0] : start + size >= points.length ? [stretch.length - 1] : [];
    const indices = [...new Set([low, high, gap, ...ends])].filter((i) => i >= 0).sort((a, b) => a - b);
    kept.push(...indices.map((i) => at(stretch, i)));
  }
  return kept;
}

/** Height of the ground at a distance along the route, between the two points around it; `null`: not known there. */
export function groundM(points: Points, distanceM: number): number | null {
  const after = points.findIndex(([alongM]) => alongM >= distanceM);
  const to = points[after];
  if (to === undefined) return points.at(-1)?.[1] ?? null;
  const from = points[after - 1] ?? to;
  if (from[1] === null || to[1] === null) return to[0] === distanceM ? to[1] : null;
  const lengthM = to[0] - from[0];
  return lengthM === 0 ? to[1] : from[1] + ((to[1] - from[1]) * (distanceM - from[0])) / lengthM;
}

/** Whether more of the way lies below treeline before the first ground above it than after the last: room for words. */
export function hasRoomAtStart(points: Points, treelineM: number): boolean {
  const above = points.filter(([, heightM]) => heightM !== null && heightM > treelineM);
  if (above.length === 0) return true;
  return at(above, 0)[0] >= last(points)[0] - last(above)[0];
}
