import Type from 'typebox';
import { closed, list, oneOf, orNull, type Shaped, text, textOrNull } from '../schema.ts';

/** The key of a rule of the trade that has no published source. */
export const TRADE = 'common practice';
/** The key of a figure of our own. */
export const DESIGN_SOURCE = 'design';

/** A line of a page, with the key of its source where it has one. */
const lineSchema = closed({ text, source: textOrNull });

const tableSchema = closed({
  columns: list(text),
  rows: list(list(text)),
  /** Rows to stand out, by index. */
  marked: list(Type.Integer()),
});

/** A part of a page, printed in this order: lines, table, tick boxes, blanks. */
const sectionSchema = closed({
  heading: text,
  lines: list(lineSchema),
  table: orNull(tableSchema),
  /** Each stands behind an empty box. */
  ticks: list(text),
  /** Labels of lines to be written on; an empty cell of a table is one too. */
  blanks: list(text),
});

/** A card or page for people as plain data: text and HTML print the same. */
export const peoplePageSchema = closed({
  title: text,
  reader: oneOf(['leaders', 'participants', 'office']),
  sections: list(sectionSchema),
});

export type PageLine = Shaped<typeof lineSchema>;
export type PageTable = Shaped<typeof tableSchema>;
export type PageSection = Shaped<typeof sectionSchema>;
export type PeoplePage = Shaped<typeof peoplePageSchema>;

/** Lines as they are put together; one that is `null` is left out. */
export type Lines = readonly (string | PageLine | null)[];

/** Lines that rest on one source. */
export const citing = (source: string, ...texts: readonly string[]): PageLine[] =>
  texts.map((text) => ({ text, source }));

interface SectionParts {
  readonly lines?: Lines;
  readonly table?: Pick<PageTable, 'columns' | 'rows'> & Partial<PageTable>;
  readonly ticks?: readonly string[];
  readonly blanks?: readonly string[];
}

/** A section from what it has. */
export function section(
  heading: string,
  { lines = [], table, ticks = [], blanks = [] }: SectionParts,
): PageSection {
  return {
    heading,
    lines: lines
      .filter((line) => line !== null)
      .map((line) => (typeof line === 'string' ? { text: line, source: null } : line)),
    table: table === undefined ? null : { ...table, marked: table.marked ?? [] },
    ticks,
    blanks,
  };
}

/** The sources of a page, each once, in the order of the lines: the first is number 1 on the page. */
export function pageSources({ sections }: PeoplePage): string[] {
  const named = sections.flatMap(({ lines }) => lines.map(({ source }) => source));
  return [...new Set(named.filter((source) => source !== null))];
}
