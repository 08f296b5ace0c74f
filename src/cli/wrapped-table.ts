import { at } from '../array.ts';
import { wrapped } from './table.ts';

const GAP = 2;
/** No column is made narrower than this while another is wider. */
const LEAST_WIDTH = 12;

const length = (text: string): number => [...text].length;

/** Column widths that fit into `width` where they can: the widest give way first. */
function widthsFor(rows: readonly (readonly string[])[], width: number): number[] {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const cells = (i: number) => rows.map((row) => row[i] ?? '');
  const natural = Array.from({ length: columns }, (_, i) => Math.max(0, ...cells(i).map(length)));
  const least = Array.from({ length: columns }, (_, i) =>
    Math.max(0, ...cells(i).flatMap((cell) => cell.split(' ').map(length))),
  );
  const widths = [...natural];
  const total = () => widths.reduce((sum, one) => sum + one + GAP, -GAP);
  for (const leastWidth of [LEAST_WIDTH, 0]) {
    while (total() > width) {
      let widest = -1;
      widths.forEach((one, i) => {
        const floor = Math.max(leastWidth, at(least, i));
        if (one > floor && (widest < 0 || one > at(widths, widest))) widest = i;
      });
      if (widest < 0) break;
      widths[widest] = at(widths, widest) - 1;
    }
  }
  return widths;
}

/**
 * Rows as aligned columns no wider together than `width`, cells broken at spaces where they have to be. Line by line;
 * no line ends in spaces. A word longer than its column makes the table wider than asked.
 */
export function wrappedTable(
  rows: readonly (readonly string[])[],
  width: number,
  indent: string = '',
): string[] {
  const widths = widthsFor(rows, width - indent.length);
  return rows.flatMap((row) => {
    const cells = row.map((cell, i) => wrapped(cell, '', at(widths, i)).split('\n'));
    const height = Math.max(1, ...cells.map((lines) => lines.length));
    return Array.from({ length: height }, (_, line) => {
      const parts = cells.map((lines, i) => {
        const text = lines[line] ?? '';
        return text + ' '.repeat(Math.max(0, at(widths, i) - length(text)));
      });
      return `${indent}${parts.join(' '.repeat(GAP))}`.trimEnd();
    });
  });
}
