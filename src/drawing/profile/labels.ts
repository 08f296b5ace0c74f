/** How wide a letter is at most on average, in font sizes: bold DejaVu Sans, the widest of the usual fonts (measured). */
const LETTER_WIDTH = 0.66;

type Row = 0 | 1;

/** Slots for labels, centred on `x`, in row 0 above row 1, with the width that each may fill: here side by side in one row. */
function inOneRow(count: number, drawingWidth: number) {
  const width = drawingWidth / Math.max(1, count);
  return { width, slots: Array.from({ length: count }, (_, i) => ({ x: (i + 0.5) * width, row: 0 as Row })) };
}

/** Slots in two rows, staggered: the middle of a label above is where two below meet, and its leader passes there. */
export function inTwoRows(count: number, drawingWidth: number) {
  const width = (2 * drawingWidth) / (count + 1);
  return {
    width,
    slots: Array.from({ length: count }, (_, i) => ({ x: ((i + 1) * width) / 2, row: (i % 2) as Row })),
  };
}

/** Slots for `count` labels, none narrower than `leastWidth`; `null`: there is no room for so many. */
export function labelSlots(count: number, drawingWidth: number, leastWidth: number) {
  const slots = [inOneRow(count, drawingWidth), inTwoRows(count, drawingWidth)];
  return slots.find(({ width }) => width >= leastWidth) ?? null;
}

const cut = (text: string, most: number): string => {
  const signs = [...text];
  return signs.length <= most ? text : `${signs.slice(0, most - 1).join('')}…`;
};

/** A text in at most two lines that fit a width; what is left over is cut off with `…`. */
export function labelLines(text: string, width: number, fontPx: number): string[] {
  const most = Math.max(2, Math.floor(width / (LETTER_WIDTH * fontPx)));
  if ([...text].length <= most) return [text];
  // A no-break space keeps a figure and its unit together.
  const words = text.split(' ');
  let first = words[0] ?? '';
  let taken = 1;
  for (const word of words.slice(1)) {
    if ([...`${first} ${word}`].length > most) break;
    first = `${first} ${word}`;
    taken += 1;
  }
  const rest = words.slice(taken).join(' ');
  return rest === '' ? [cut(first, most)] : [cut(first, most), cut(rest, most)];
}
