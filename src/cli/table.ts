type Align = 'left' | 'right';

/** Rows as aligned columns, two spaces between them; no line ends in spaces. */
export function table(rows: readonly (readonly string[])[], aligns: readonly Align[] = []): string {
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, [...cell].length);
    });
  }
  const pad = (cell: string, i: number) => {
    const fill = ' '.repeat((widths[i] ?? 0) - [...cell].length);
    return aligns[i] === 'right' ? fill + cell : cell + fill;
  };
  return rows.map((row) => row.map(pad).join('  ').trimEnd()).join('\n');
}

/** Text broken at spaces to lines of at most `width`, each with the indent. */
export function wrapped(text: string, indent: string, width = 100, hang: string = indent): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const start = lines.length === 0 ? indent : hang;
    if (line !== '' && [...start, ...line].length + 1 + [...word].length > width) {
      lines.push(start + line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  lines.push((lines.length === 0 ? indent : hang) + line);
  return lines.join('\n');
}

/** An entry of a list: two spaces in, its further lines by two more. */
export const item = (text: string): string => wrapped(text, '  ', 100, '    ');

/** Whose heights they are: the words that the tiles ask for, at the foot of whatever is printed. */
export const heightsLines = (attribution: readonly string[]): string[] =>
  attribution.map((words) => wrapped(`Heights: ${words}`, '  ', 100, '  '));
