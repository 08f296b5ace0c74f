import { geodesicM, type Place } from '../../earth/geodesic.ts';
import { EngineError } from '../../errors.ts';
import { message } from '../../message.ts';
import { type Line, type NotedLine, slice } from './line.ts';

/** A meeting place is kept to 0.01 degrees: the true one lies up to half of that away in latitude and in longitude. */
const ROUNDING_DEG = 0.005;

/** The farthest that the rounding can have moved the place, metres: to the corner that lies nearer the equator. */
function roundingM(home: Place): number {
  const corners = [ROUNDING_DEG, -ROUNDING_DEG].map((dLatDeg) => ({
    latDeg: Math.min(90, Math.max(-90, home.latDeg + dLatDeg)),
    lonDeg: home.lonDeg + ROUNDING_DEG,
  }));
  return Math.max(...corners.map((corner) => geodesicM(home, corner)));
}

/**
 * The line without its ends near the meeting place: from the first to the last point that lies farther than `radiusM`
 * from wherever that place may be. Where the group comes by in between, the line stays. The note does not say which
 * end, where or how much.
 *
 * @param home as stored, rounded to 0.01 degrees; a place given more exactly is cut as widely. `null`: not known,
 * nothing is cut
 * @throws EngineError `bad-outing` where fewer than two points in a row are left.
 */
export function withoutHome(line: Line, home: Place | null, radiusM: number): NotedLine {
  if (home === null) return { line, notes: [] };
  const points = line.flat();
  const cutM = radiusM + roundingM(home);
  const isAway = (point: Place) => geodesicM(home, point) > cutM;
  const first = points.findIndex(isAway);
  const left = first === -1 ? [] : slice(line, first, points.findLastIndex(isAway));
  if (left.length === 0) {
    throw new EngineError(
      'bad-outing',
      message`the track lies within ${{ lengthM: radiusM }} of the meeting place (which is kept to 0.01° only, so up to ${{ lengthM: 800, kmDecimals: 1 }} more), where tracks are cut so that nobody’s home is kept: enter this outing by hand`,
    );
  }
  if (left.flat().length === points.length) return { line, notes: [] };
  return { line: left, notes: [{ code: 'ends-cut', values: { radiusM } }] };
}
