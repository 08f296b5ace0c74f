/** @jsxRuntime automatic @jsxImportSource preact */
// biome-ignore-all lint/a11y/noRedundantRoles: on a phone the cells are blocks, and a browser that takes the table for none then still has the roles
import type { VNode } from 'preact';
import { cssText } from '../markup/plain-text.ts';
import { CellWords, Words } from '../markup/words.tsx';
import type { PageTable } from './people-page.ts';
import { type PlanDocument, sectionId } from './plan-document.ts';

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
export function Table({ table, labelId }: { readonly table: PageTable; readonly labelId: string }): VNode {
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
