import { at, last } from '../../array.ts';
import type { NetPoint } from './isolines.ts';

export interface ContourLabel {
  readonly x: number;
  readonly y: number;
  /** Clockwise, within a quarter turn of level, so that it is read without turning the head. */
  readonly angleDeg: number;
  readonly text: string;
}

/** A contour in units of the map, with what its label says. */
export interface LabelledLine {
  readonly points: readonly NetPoint[];
  readonly text: string;
}

/** Half the length of line that a label covers, and how straight it has to be there: chord over way (design). */
const HALF_LABEL = 20;
const LEAST_STRAIGHT = 0.975;
/** Lines shorter than this have no label; labels keep such distances of each other, of the edge and of what to avoid. */
const LEAST_LENGTH = 100;
const LEAST_GAP = 95;
const EDGE = 40;
/** The degrees of latitude stand inside the left edge. */
const LEFT_EDGE = 95;
const CLEAR = 20;
/** A label for so much of a line. */
const EVERY = 420;
const CANDIDATE_STEP = 10;

const gap = ([ax, ay]: NetPoint, [bx, by]: NetPoint): number => Math.hypot(ax - bx, ay - by);

function alongOf(points: readonly NetPoint[]): number[] {
  let length = 0;
  return points.map((point, i) => {
    length += i === 0 ? 0 : gap(at(points, i - 1), point);
    return length;
  });
}

/** Places at which a label could stand on a line, the straightest first. */
function candidates({ points, text }: LabelledLine, along: readonly number[]) {
  const found: { label: ContourLabel; straight: number }[] = [];
  let [from, to] = [0, 0];
  for (let here = HALF_LABEL; here <= last(along) - HALF_LABEL; here += CANDIDATE_STEP) {
    while (from + 1 < points.length && at(along, from + 1) <= here - HALF_LABEL) from += 1;
    while (to < points.length - 1 && at(along, to) < here + HALF_LABEL) to += 1;
    const [a, b] = [at(points, from), at(points, to)];
    const straight = gap(a, b) / (at(along, to) - at(along, from));
    if (straight < LEAST_STRAIGHT) continue;
    const middle = at(points, (from + to) >> 1);
    const turned = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
    const angleDeg = turned > 90 ? turned - 180 : turned <= -90 ? turned + 180 : turned;
    found.push({ label: { x: middle[0], y: middle[1], angleDeg, text }, straight });
  }
  return found.sort((p, q) => q.straight - p.straight);
}

/** Chooses where contours have their heights written: on straight stretches, clear of each other, the edge and the routes. */
export function contourLabels(
  lines: readonly LabelledLine[],
  { width, height }: { readonly width: number; readonly height: number },
  avoid: readonly NetPoint[],
): ContourLabel[] {
  const placed: ContourLabel[] = [];
  const withLength = lines
    .filter(({ points }) => points.length > 0)
    .map((line) => ({ line, along: alongOf(line.points) }))
    .sort((a, b) => last(b.along) - last(a.along));
  for (const { line, along } of withLength) {
    const length = last(along);
    if (length < LEAST_LENGTH) break;
    let wanted = 1 + Math.floor(length / EVERY);
    for (const { label } of candidates(line, along)) {
      if (wanted === 0) break;
      const { x, y } = label;
      const isInside = x > LEFT_EDGE && y > EDGE && x < width - EDGE && y < height - EDGE;
      if (!isInside || placed.some((other) => gap([other.x, other.y], [x, y]) < LEAST_GAP)) continue;
      if (avoid.some((point) => gap(point, [x, y]) < CLEAR)) continue;
      placed.push(label);
      wanted -= 1;
    }
  }
  return placed;
}
