/** The key of a rule of the trade that has no published source. */
export const TRADE = 'common practice';
/** The key of a figure of our own. */
export const DESIGN_SOURCE = 'design';

/** A line of a page, with the key of its source where it has one. */
export interface PageLine {
  readonly text: string;
  readonly source: string | null;
}

export interface PageTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Rows to stand out, by index. */
  readonly marked: readonly number[];
}

/** A part of a page, printed in this order: lines, table, tick boxes, blanks. */
export interface PageSection {
  readonly heading: string;
  readonly lines: readonly PageLine[];
  readonly table: PageTable | null;
  /** Each stands behind an empty box. */
  readonly ticks: readonly string[];
  /** Labels of lines to be written on; an empty cell of a table is one too. */
  readonly blanks: readonly string[];
}

/** A card or page for people as plain data: text and HTML print the same. */
export interface PeoplePage {
  readonly title: string;
  readonly reader: 'leaders' | 'participants' | 'office';
  readonly sections: readonly PageSection[];
}

export interface SectionParts {
  readonly lines?: readonly (string | PageLine | null)[];
  readonly table?: PageTable;
  readonly ticks?: readonly string[];
  readonly blanks?: readonly string[];
}

/** A section from what it has; a line that is `null` is left out. */
export function section(heading: string, parts: SectionParts): PageSection {
  return {
    heading,
    lines: (parts.lines ?? [])
      .filter((line) => line !== null)
      .map((line) => (typeof line === 'string' ? { text: line, source: null } : line)),
    table: parts.table ?? null,
    ticks: parts.ticks ?? [],
    blanks: parts.blanks ?? [],
  };
}

/** The sources of a page, each once, in the order of the lines: the first is number 1 on the page. */
export function pageSources({ sections }: PeoplePage): string[] {
  const named = sections.flatMap(({ lines }) => lines.map(({ source }) => source));
  return [...new Set(named.filter((source) => source !== null))];
}
