/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { Words } from '../markup/words.tsx';
import { BlankLines } from './blank-lines.tsx';
import { Table } from './page-table.tsx';
import type { PageSection } from './people-page.ts';

interface SectionProps {
  readonly part: PageSection;
  readonly id: string;
  /** The sources of the page; a line names its own by number. */
  readonly sources: readonly string[];
}

/** A part of a page: lines, table, tick boxes and blanks, in this order. */
export function Section({ part, id, sources }: SectionProps): VNode {
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
