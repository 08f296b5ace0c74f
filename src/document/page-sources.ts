import type { PeoplePage } from './people-page.ts';

/** The sources of a page, each once, in the order of the lines: the first is number 1 on the page. */
export function pageSources({ sections }: PeoplePage): string[] {
  const named = sections.flatMap(({ lines }) => lines.map(({ source }) => source));
  return [...new Set(named.filter((source) => source !== null))];
}
