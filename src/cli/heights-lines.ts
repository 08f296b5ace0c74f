import { wrapped } from './table.ts';

/** Whose heights they are: the words that the tiles ask for, at the foot of whatever is printed. */
export const heightsLines = (attribution: readonly string[]): string[] =>
  attribution.map((words) => wrapped(`Heights: ${words}`, '  ', 100, '  '));
