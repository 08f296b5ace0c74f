import { textPosition } from './text-position.ts';

/** Where the string that begins at `from` ends. */
function stringEnd(text: string, from: number): number {
  let i = from + 1;
  while (i < text.length && text[i] !== '"') i += text[i] === '\\' ? 2 : 1;
  return i;
}

/** Where a step leads to inside the value that begins at or after `from`; -1: nowhere. */
function stepFrom(text: string, from: number, step: string): number {
  let depth = 0;
  let index = 0;
  let isList = false;
  for (let i = from; i < text.length; i += 1) {
    const mark = text[i];
    if (mark === '"') {
      const end = stringEnd(text, i);
      const isKey = depth === 1 && !isList && /^\s*:/.test(text.slice(end + 1, end + 50));
      if (isKey && text.slice(i + 1, end) === step) return i;
      i = end;
    } else if (mark === '{' || mark === '[') {
      depth += 1;
      if (depth === 1) isList = mark === '[';
      if (depth === 1 && isList && step === '0') return i + 1;
    } else if (mark === '}' || mark === ']') {
      depth -= 1;
      if (depth === 0) return -1;
    } else if (mark === ',' && depth === 1 && isList) {
      index += 1;
      if (String(index) === step) return i + 1;
    }
  }
  return -1;
}

/** The line, from 1, on which what a JSON Pointer names stands in a text that is JSON; `null`: it is not in it. */
export function pointerLine(text: string, pointer: string): number | null {
  let at = 0;
  for (const step of pointer.split('/').slice(1)) {
    const found = stepFrom(text, at, step.replaceAll('~1', '/').replaceAll('~0', '~'));
    if (found === -1) return null;
    // Behind a key, its value.
    at = text[found] === '"' ? stringEnd(text, found) + 1 : found;
  }
  const blank = /^\s*:?\s*/.exec(text.slice(at))?.[0].length ?? 0;
  return pointer === '' ? null : textPosition(text, at + blank).line;
}
