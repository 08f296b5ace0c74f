/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { Words } from '../markup/words.tsx';
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
