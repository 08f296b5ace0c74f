/** @jsxRuntime automatic @jsxImportSource preact */
// biome-ignore-all lint/a11y/noRedundantRoles: on a phone the cells are blocks, and a browser that takes the table for none then still has the roles
import type { VNode } from 'preact';
import { ContourRule } from '../drawing/contours.tsx';
import type { ProfileDrawing } from '../drawing/profile/profile-drawing.ts';
import { ProfileFigure } from '../drawing/profile/svg.tsx';
import { cssText } from '../markup/plain-text.ts';
import { CellWords, Words } from '../markup/words.tsx';
import { type PageSection, type PageTable, type PeoplePage, pageSources } from './people-page.ts';
import { ONE_SHEET, type PageKey, type PlanDocument, sectionId } from './plan-document.ts';

interface CellProps {
  readonly text: string;
  readonly isHead: boolean;
  /** Whether the table becomes cards on a phone. */
  readonly isCard: boolean;
}

function Cell({ text, isHead, isCard }: CellProps): VNode {
  if (isHead && text !== '') {
    return (
      <th scope="row" role={isCard ? 'rowheader' : undefined}>
        <Words text={text} />
      </th>
    );
  }
  return (
    <td role={isCard ? 'cell' : undefined} class={text === '' ? 'write' : undefined}>
      {text === '' ? <span class="unseen">to fill in</span> : <CellWords text={text} />}
    </td>
  );
}

/**
 * A table of a page; an empty cell is room to write in. One that becomes cards on a phone says its roles again: not
 * every browser still takes it for a table then.
 */
function Table({ table, labelId }: { readonly table: PageTable; readonly labelId: string }): VNode {
  const { columns, rows, marked } = table;
  const className = tableClass(table);
  const isCard = becomesCards(table);
  const role = (name: 'table' | 'rowgroup' | 'row' | 'columnheader') => (isCard ? name : undefined);
  return (
    <table role={role('table')} aria-labelledby={labelId} class={className}>
      <thead role={role('rowgroup')}>
        <tr role={role('row')}>
          {columns.map((column) =>
            column === '' ? (
              <td />
            ) : (
              <th scope="col" role={role('columnheader')}>
                {column}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody role={role('rowgroup')}>
        {rows.map((row, index) => (
          <tr role={role('row')} class={marked.includes(index) ? 'marked' : undefined}>
            {row.map((text, at) => (
              <Cell text={text} isHead={at === 0} isCard={isCard} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Up to so many columns a table stays a table on a phone; a wider one becomes a card for each row (design). */
const MOST_PHONE_COLUMNS = 3;
/** From so many columns on a table is set small, and is cards on a tablet too (design). */
const MANY_COLUMNS = 7;

const becomesCards = ({ columns }: PageTable): boolean => columns.length > MOST_PHONE_COLUMNS;

/** How a table is set, by its columns. */
function tableClass(table: PageTable): string | undefined {
  if (!becomesCards(table)) return undefined;
  return table.columns.length < MANY_COLUMNS ? 'cards' : 'cards many';
}

/** Rules that name each value of a table where it is shown as cards: said once for a column, not in every cell. */
export function cardNames({ pages }: PlanDocument): string {
  return pages
    .flatMap(({ key, page }) =>
      page.sections.flatMap(({ table }, index) =>
        table === null || !becomesCards(table)
          ? []
          : table.columns.map(
              (column, at) =>
                `[aria-labelledby=${sectionId(key, index)}] td:nth-child(${at + 1}){--name:${cssText(column)}}`,
            ),
      ),
    )
    .join('\n');
}

interface SectionProps {
  readonly part: PageSection;
  readonly id: string;
  /** The sources of the page; a line names its own by number. */
  readonly sources: readonly string[];
}

/** A part of a page: lines, table, tick boxes and blanks, in this order. */
function Section({ part, id, sources }: SectionProps): VNode {
  const { heading, lines, table, ticks, blanks } = part;
  return (
    <section class={table === null ? undefined : 'wide'}>
      <h3 id={id}>
        <Words text={heading} />
      </h3>
      {lines.map(({ text, source }) => (
        <p>
          <Words text={text} />
          {source !== null && <small> [{sources.indexOf(source) + 1}]</small>}
        </p>
      ))}
      {table !== null && table.rows.length > 0 && <Table table={table} labelId={id} />}
      {ticks.length > 0 && (
        <ul class="ticks">
          {ticks.map((text) => (
            <li>
              <Words text={text} />
            </li>
          ))}
        </ul>
      )}
      {blanks.length > 0 && <BlankLines labels={blanks} />}
    </section>
  );
}

const GAP = '…';

/**
 * A label with its room to write: each `…` in it is room too. With two of them, or in a sum to be worked out, the
 * label needs no line behind it.
 */
function Blank({ label }: { readonly label: string }): VNode {
  const parts = label.split(GAP);
  const isFilledInside = parts.length > 2 || (parts.length === 2 && label.includes('='));
  return (
    <li>
      <span>
        {parts.map((part, index) => (
          <>
            {index > 0 && <span class="gap" />}
            <Words text={part} />
          </>
        ))}
      </span>
      {!isFilledInside && <span class="line" />}
    </li>
  );
}

/** Lines to be written on. */
function BlankLines({ labels }: { readonly labels: readonly string[] }): VNode {
  return (
    <ul class="blanks">
      {labels.map((label) => (
        <Blank label={label} />
      ))}
    </ul>
  );
}

interface PageProps {
  readonly id: PageKey;
  readonly page: PeoplePage;
  /** Of the plan: which route, which day. */
  readonly planTitle: string;
  readonly foot: string;
  /** The measures in both units, shown on paper alone. */
  readonly measures: string | null;
  readonly profile: ProfileDrawing | null;
}

/** One page of a plan, printed on a sheet of its own. */
export function PlanPage({ id, page, planTitle, foot, measures, profile }: PageProps): VNode {
  const sources = pageSources(page);
  return (
    <article
      id={id}
      aria-labelledby={`${id}-title`}
      tabIndex={-1}
      class={`page ${id}${ONE_SHEET.has(id) ? ' one-sheet' : ''}`}
    >
      <header>
        {page.title !== planTitle && (
          <p class="of">
            <Words text={planTitle} />
          </p>
        )}
        <h2 id={`${id}-title`}>
          <Words text={page.title} />
        </h2>
        {measures !== null && (
          <p class="on-paper">
            <Words text={measures} />
          </p>
        )}
        <ContourRule />
      </header>
      {profile !== null && <ProfileFigure drawing={profile} />}
      <div class="sections">
        {page.sections.map((part, index) => (
          <Section part={part} id={sectionId(id, index)} sources={sources} />
        ))}
      </div>
      <footer>
        {/* A space: on one sheet both run on in a line. */}
        {sources.length > 0 && (
          <p>Sources: {sources.map((source, index) => `[${index + 1}] ${source}`).join('; ')}.</p>
        )}{' '}
        <p>{foot}</p>
      </footer>
    </article>
  );
}
