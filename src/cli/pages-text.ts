import type { PageSection, PeoplePage } from '../document/people-page.ts';
import type { PageKey, PlanDocument } from '../document/plan-document.ts';
import { wrapped } from './table.ts';
import { wrappedTable } from './wrapped-table.ts';

const WIDTH = 110;
const INDENT = '  ';
/** An empty cell below the head is there to be written on. */
const TO_WRITE = '______';

function sectionText({ heading, lines, table, ticks, blanks }: PageSection): string[] {
  return [
    '',
    heading,
    ...lines.map(({ text, source }) =>
      wrapped(source === null ? text : `${text} [${source}]`, INDENT, WIDTH, `${INDENT}${INDENT}`),
    ),
    ...(table === null
      ? []
      : wrappedTable(
          [table.columns, ...table.rows.map((row) => row.map((cell) => (cell === '' ? TO_WRITE : cell)))],
          WIDTH,
          INDENT,
        )),
    ...ticks.map((text) => wrapped(`[ ] ${text}`, INDENT, WIDTH, `${INDENT}    `)),
    ...blanks.map((text) =>
      wrapped(`${text}: ${'_'.repeat(Math.max(8, 50 - text.length))}`, INDENT, WIDTH, `${INDENT}${INDENT}`),
    ),
  ];
}

const pageText = ({ title, sections }: PeoplePage): string =>
  [title, '='.repeat([...title].length), ...sections.flatMap(sectionText)].join('\n');

const NO_PARTICIPANTS_PAGE = 'No page for participants: this day is not, or not yet, one for this group.';

/** The pages of a plan as text: all of them, or those asked for. */
export function pagesText(document: PlanDocument, keys: readonly PageKey[] | null): string {
  const pages = document.pages.filter(({ key }) => keys === null || keys.includes(key));
  const isLeftOut =
    (keys?.includes('participants') ?? false) && pages.every(({ key }) => key !== 'participants');
  const leftOut = isLeftOut ? [NO_PARTICIPANTS_PAGE] : [];
  return [...leftOut, ...pages.map(({ page }) => pageText(page)), wrapped(document.foot, '', WIDTH)].join(
    '\n\n\n',
  );
}
