import { geodesicM } from '../earth/geodesic.ts';
import { lineLengthM } from '../earth/line.ts';
import type { Route } from '../route/describe-route.ts';

/** Ends of two stretches so near each other touch, metres (design; the reader keeps gaps only over 50 m). */
const TOUCHING_M = 1;

type Position = readonly [number, number];
const place = ([lonDeg, latDeg]: Position) => ({ lonDeg, latDeg });

/** Whether one stretch of a line begins where the one before it ends, as an assumed way back does. */
export function areTouching(before: readonly Position[], after: readonly Position[]): boolean {
  const end = before.at(-1);
  const start = after[0];
  return end !== undefined && start !== undefined && geodesicM(place(end), place(start)) <= TOUCHING_M;
}

/** Distances along the route, metres, at which its line has a gap: what lies there is in no figure of the route. */
export function lineGapsM({ line }: Pick<Route, 'line'>): number[] {
  const gapsM: number[] = [];
  let alongM = 0;
  line.forEach((segment, i) => {
    const before = line[i - 1];
    if (before !== undefined && !areTouching(before, segment)) gapsM.push(alongM);
    if (i < line.length - 1) alongM += lineLengthM(segment.map(place));
  });
  return gapsM;
}
