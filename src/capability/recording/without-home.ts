import { geodesicM, type Place } from '../../earth/geodesic.ts';
import { EngineError, type Note } from '../../errors.ts';
import { type Line, pointCount, slice } from './line.ts';

/**
 * The line without its ends near the meeting place: from the first to the last point that lies farther than `radiusM`
 * from it. Where the group comes by in between, the line stays. The note does not say which end, where or how much.
 *
 * @param home `null`: not known, nothing is cut
 * @throws EngineError `bad-outing` where fewer than two points in a row are left.
 */
export function withoutHome(
  line: Line,
  home: Place | null,
  radiusM: number,
): { readonly line: Line; readonly notes: readonly Note[] } {
  if (home === null) return { line, notes: [] };
  const points = line.flat();
  const isAway = (point: Place) => geodesicM(home, point) > radiusM;
  const first = points.findIndex(isAway);
  const left = first === -1 ? [] : slice(line, first, points.findLastIndex(isAway));
  if (left.length === 0) {
    throw new EngineError(
      'bad-outing',
      `the track lies within ${radiusM} m of the meeting place, where tracks are cut so that nobody’s home is kept: enter this outing by hand`,
    );
  }
  if (pointCount(left) === points.length) return { line, notes: [] };
  const text = `what lay within ${radiusM} m of the meeting place at an end of the track was cut before anything was measured`;
  return { line: left, notes: [{ code: 'ends-cut', text }] };
}
