import { groundM } from '../../drawing/profile/ground.ts';
import { profileLayout } from '../../drawing/profile/layout.ts';
import {
  NARROW,
  type ProfileDrawing,
  type ProfileFrame,
  tenth,
  WIDE,
} from '../../drawing/profile/profile-drawing.ts';
import { profileScales } from '../../drawing/profile/scales.ts';

/** A step along the route: what is said of it, and where it lies on the map and on both profiles. */
export interface AlongPoint {
  readonly distanceM: number;
  readonly text: string;
  readonly map: readonly [number, number] | null;
}

/** Where steps lie on a profile; `null`: there is no drawing, or no height known there. */
function onProfile(drawing: ProfileDrawing | null, frame: ProfileFrame) {
  const box = drawing === null ? null : profileLayout(drawing, frame).box;
  const scales = drawing === null || box === null ? null : profileScales(drawing, box);
  return (distanceM: number): readonly [number, number] | null => {
    if (drawing === null || scales === null) return null;
    const heightM = groundM(drawing.points, distanceM);
    return heightM === null ? null : [tenth(scales.x(distanceM)), tenth(scales.y(heightM))];
  };
}

/** The steps as the script `along` reads them: text, then places on `.map`, `.profile.wide` and `.profile.narrow`. */
export function alongData(points: readonly AlongPoint[], drawing: ProfileDrawing | null): string {
  const wide = onProfile(drawing, WIDE);
  const narrow = onProfile(drawing, NARROW);
  return JSON.stringify(
    points.map(({ distanceM, text, map }) => [
      text,
      map === null ? null : [tenth(map[0]), tenth(map[1])],
      wide(distanceM),
      narrow(distanceM),
    ]),
  );
}
