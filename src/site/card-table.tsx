import type { VNode } from 'preact';
import { CellWords, Words } from '../markup/words.tsx';

interface TableProps {
  readonly caption: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Which cell of a row names it; the first where it is left out. */
  readonly nameAt?: number;
  /** A class beside `cards`. */
  readonly kind?: string;
}

/** A table whose rows become cards on a phone. */
export function CardTable({ caption, columns, rows, nameAt = 0, kind = '' }: TableProps): VNode {
  return (
    <table class={`cards ${kind}`.trim()}>
      <caption>{caption}</caption>
      <thead>
        <tr>
          {columns.map((column) => (
            <th scope="col">{column}</th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((cells) => (
          <tr>
            {cells.map((cell, i) =>
              i === nameAt ? (
                <th scope="row">
                  <Words text={cell} />
                </th>
              ) : (
                <td>
                  <span class="name">{columns[i]} </span>
                  <CellWords text={cell} />
                </td>
              ),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
