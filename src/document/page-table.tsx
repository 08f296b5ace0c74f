/** @jsxRuntime automatic @jsxImportSource preact */
// biome-ignore-all lint/a11y/noRedundantRoles: on a phone the cells are blocks, and a browser that takes the table for none then still has the roles
import type { VNode } from 'preact';
import { CellWords, Words } from '../markup/words.tsx';
import type { PageTable } from './people-page.ts';
import { becomesCards, tableClass } from './table-class.ts';

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
