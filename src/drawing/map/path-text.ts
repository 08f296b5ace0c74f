import type { NetPoint } from './isolines.ts';

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
