import { at } from '../array.ts';
import { localScale } from '../earth/local-scale.ts';

export type Shape = 'outAndBack' | 'loop' | 'oneWay';

/** Ends at most this far apart count as the same place (design). */
const SAME_PLACE_M = 250;
/** The way back counts as the way out where it stays this close to it (design: two receivers' errors and a path's width). */
const SAME_PATH_M = 60;
/** Share of the way back that has to follow the way out (design). */
const RETRACED_SHARE = 0.75;

/** Stations at equal steps, one entry each. */
interface Stations {
  readonly lonDeg: readonly number[];
  readonly latDeg: readonly number[];
}

/** Stations in plane coordinates, metres, about the first one; good to 0.1 % over a day's walk. */
function plane(segments: readonly Stations[]): { xM: number; yM: number }[] {
  const lat0 = at(at(segments, 0).latDeg, 0);
  const lon0 = at(at(segments, 0).lonDeg, 0);
  const scale = localScale(lat0);
  return segments.flatMap((segment) =>
    segment.lonDeg.map((lon, i) => ({
      xM: (lon - lon0) * scale.mPerDegLon,
      yM: (at(segment.latDeg, i) - lat0) * scale.mPerDegLat,
    })),
  );
}

/**
 * Whether a route comes back the way it went, comes back another way, or ends elsewhere.
 * Out and back means that most of its second half lies on its first.
 */
export function shapeOf(segments: readonly Stations[]): Shape {
  const points = plane(segments);
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return 'oneWay';
  if (Math.hypot(last.xM - first.xM, last.yM - first.yM) > SAME_PLACE_M) return 'oneWay';
  // Stations are equally spaced, so the middle one is half-way by distance, whatever way the line takes.
  const half = Math.floor(points.length / 2);
  const cell = (xM: number, yM: number) => `${Math.floor(xM / SAME_PATH_M)},${Math.floor(yM / SAME_PATH_M)}`;
  const out = new Map<string, { xM: number; yM: number }[]>();
  for (const point of points.slice(0, half + 1)) {
    const key = cell(point.xM, point.yM);
    const there = out.get(key);
    if (there === undefined) out.set(key, [point]);
    else there.push(point);
  }
  const isNear = (point: { xM: number; yM: number }): boolean => {
    for (const dx of [-SAME_PATH_M, 0, SAME_PATH_M]) {
      for (const dy of [-SAME_PATH_M, 0, SAME_PATH_M]) {
        const there = out.get(cell(point.xM + dx, point.yM + dy)) ?? [];
        if (there.some((other) => Math.hypot(other.xM - point.xM, other.yM - point.yM) <= SAME_PATH_M)) {
          return true;
        }
      }
    }
    return false;
  };
  const back = points.slice(half + 1);
  if (back.length === 0) return 'oneWay';
  const near = back.filter(isNear).length;
  return near / back.length >= RETRACED_SHARE ? 'outAndBack' : 'loop';
}
