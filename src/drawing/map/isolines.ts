import { contours } from 'd3-contour';
import { at } from '../../array.ts';

/** Lines and areas of equal value on a net. The only file that knows d3-contour. */

/** A net of values, rows from north to south; NaN is void. */
export interface ValueNet {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float32Array;
}

/** Column and row, with fractions: the place of value (0, 0) is [0, 0]. */
export type NetPoint = readonly [number, number];

export interface Isoline {
  readonly points: readonly NetPoint[];
  readonly isClosed: boolean;
}

/** Rings of less length than this, in steps of the net, are noise of the heights (design). */
const LEAST_RING_STEPS = 6;

type Ring = readonly (readonly number[])[];

/** The library's rings put value (0, 0) at half a step, and close an area along the edge of the net and of voids. */
function ringsAt({ columns, rows, values }: ValueNet, level: number): Ring[][] {
  // The library takes NaN as lower than everything; its type asks for an array.
  const found = contours()
    .size([columns, rows])
    .contour(values as unknown as number[], level);
  return found.coordinates;
}

function netPoint(ring: Ring, i: number): NetPoint {
  const point = at(ring, i);
  return [at(point, 0) - 0.5, at(point, 1) - 0.5];
}

/**
 * Whether a point of a ring is no place of that value but the edge of the net or of a void. Beside a void the library
 * puts it on the last value that is known, which is higher than the level.
 */
function isEdge([x, y]: NetPoint, { columns, rows, values }: ValueNet, level: number): boolean {
  if (x <= -0.5 || y <= -0.5 || x >= columns - 0.5 || y >= rows - 0.5) return true;
  if (!Number.isInteger(x) || !Number.isInteger(y)) return false;
  return values[y * columns + x] !== level;
}

const lengthOf = (points: readonly NetPoint[]): number =>
  points.reduce((sum, [x, y], i) => {
    const [px, py] = points[i - 1] ?? [x, y];
    return sum + Math.hypot(x - px, y - py);
  }, 0);

/** The lines on which a net has a value. They end at its edge and at voids; rings too small to mean anything are left out. */
export function isolines(net: ValueNet, level: number): Isoline[] {
  const lines: Isoline[] = [];
  for (const ring of ringsAt(net, level).flat()) {
    // The last point of a ring is its first again.
    const points = Array.from({ length: ring.length - 1 }, (_, i) => netPoint(ring, i));
    const edges = points.map((point) => isEdge(point, net, level));
    const from = edges.indexOf(true);
    if (from < 0) {
      const closed = [...points, points[0] ?? [0, 0]] as const;
      if (lengthOf(closed) >= LEAST_RING_STEPS) lines.push({ points: closed, isClosed: true });
      continue;
    }
    let open: NetPoint[] = [];
    for (let step = 1; step <= points.length; step += 1) {
      const i = (from + step) % points.length;
      const point = points[i];
      if (point !== undefined && !edges[i]) open.push(point);
      else {
        if (open.length > 1) lines.push({ points: open, isClosed: false });
        open = [];
      }
    }
  }
  return lines;
}

const areaOf = (points: readonly NetPoint[]): number =>
  Math.abs(
    points.reduce((sum, [x, y], i) => {
      const [px, py] = points[i - 1] ?? points.at(-1) ?? [0, 0];
      return sum + px * y - x * py;
    }, 0) / 2,
  );

/**
 * The rings around all ground with at least a value, holes among them, for filling by even and odd. Closed along edges.
 * Rings of less area, in squares of the net, are left out.
 */
export function regions(net: ValueNet, level: number, leastArea: number): NetPoint[][] {
  return ringsAt(net, level)
    .flat()
    .map((ring) => Array.from({ length: ring.length - 1 }, (_, i) => netPoint(ring, i)))
    .filter((points) => areaOf(points) >= leastArea);
}

/** Points nearer than this to the one before are left out: half of it is the most a line is off (design). */
const LEAST_STEP = 1.4;

const tenths = (value: number): number => Math.round(value * 10);
const written = (value: number): string => String(value / 10);

/** A line as the data of an SVG path, in steps from point to point: a third shorter than with places. */
export function pathText(points: readonly NetPoint[], isClosed = false): string {
  const [first] = points;
  if (first === undefined) return '';
  let [x, y] = [tenths(first[0]), tenths(first[1])];
  let text = `M${written(x)} ${written(y)}`;
  points.forEach((point, i) => {
    if (i === 0) return;
    const [nextX, nextY] = [tenths(point[0]), tenths(point[1])];
    const isLast = i === points.length - 1;
    if (!isLast && Math.hypot(nextX - x, nextY - y) < 10 * LEAST_STEP) return;
    text += `l${written(nextX - x)} ${written(nextY - y)}`;
    [x, y] = [nextX, nextY];
  });
  return isClosed ? `${text}Z` : text;
}
