/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { Words } from '../markup/words.tsx';

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
export function BlankLines({ labels }: { readonly labels: readonly string[] }): VNode {
  return (
    <ul class="blanks">
      {labels.map((label) => (
        <Blank label={label} />
      ))}
    </ul>
  );
}
