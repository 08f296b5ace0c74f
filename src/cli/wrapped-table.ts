import { at } from '../array.ts';

const GAP = 2;
/** No column is made narrower than this while another is wider. */
const LEAST_WIDTH = 12;

const length = (text: string): number => [...text].length;

/** A cell broken at spaces to lines of at most `width`; a longer word stays whole. */
function broken(cell: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of cell.split(' ')) {
    if (line !== '' && length(line) + 1 + length(word) > width) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  return [...lines, line];
}

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
export function wrappedTable(rows: readonly (readonly string[])[], width: number): string[] {
  const widths = widthsFor(rows, width);
  return rows.flatMap((row) => {
    const cells = row.map((cell, i) => broken(cell, widths[i] ?? length(cell)));
    const height = Math.max(1, ...cells.map((lines) => lines.length));
    return Array.from({ length: height }, (_, line) =>
      cells
        .map((lines, i) => {
          const text = lines[line] ?? '';
          return text + ' '.repeat(Math.max(0, at(widths, i) - length(text)));
        })
        .join(' '.repeat(GAP))
        .trimEnd(),
    );
  });
}
