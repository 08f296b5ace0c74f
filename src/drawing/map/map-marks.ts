import type { NetPoint } from './isolines.ts';

/** Places nearer to each other than this are one mark (design). */
const TOGETHER = 17;

/** Numbers places in their order; those that lie on each other share a mark. On a map of one route the first is its start. */
export function mapMarks(places: readonly NetPoint[], hasStart: boolean) {
  const marks: { x: number; y: number; numbers: number[] }[] = [];
  places.forEach(([x, y], i) => {
    const near = marks.find((mark) => Math.hypot(mark.x - x, mark.y - y) < TOGETHER);
    if (near !== undefined) near.numbers.push(i + 1);
    else marks.push({ x, y, numbers: [i + 1] });
  });
  return marks.map(({ x, y, numbers }) => ({
    x,
    y,
    /** `3`, or `3, 7` where the way passes twice. */
    text: numbers.join(', '),
    isStart: hasStart && numbers.includes(1),
  }));
}

export type MapMark = ReturnType<typeof mapMarks>[number];
