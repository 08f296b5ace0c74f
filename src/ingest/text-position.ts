export interface TextPosition {
  readonly line: number;
  readonly column: number;
}

/** Line and column of a text index, both counted from 1. */
export function textPosition(text: string, index: number): TextPosition {
  let line = 1;
  let lineStart = 0;
  for (let at = text.indexOf('\n'); at !== -1 && at < index; at = text.indexOf('\n', at + 1)) {
    line += 1;
    lineStart = at + 1;
  }
  return { line, column: index - lineStart + 1 };
}
