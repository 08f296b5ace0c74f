/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { VERDICT_TEXT } from '../../fit/verdict-words.ts';
import { Reach, type ReachMark, ReachNames } from '../reach.tsx';
import { Words } from '../words.tsx';
import type { ShortlistReason } from './shortlist-view.ts';

/** One answer of a fit, its verdict named where it is none that one hopes for. */
export function Reason({ question, verdict, text }: ShortlistReason): VNode {
  return (
    <p>
      <strong>
        {question}
        {verdict !== 'fits' && ` (${VERDICT_TEXT[verdict]})`}:
      </strong>{' '}
      <Words text={text} />
    </p>
  );
}

/** The cell beside a fit's two rows: demand against what the group can do, and what is asked most. */
export function DrawnCell({
  marks,
  closest,
}: {
  readonly marks: readonly ReachMark[];
  readonly closest: string | null;
}): VNode {
  return (
    <td class="drawn" rowSpan={2}>
      <div class="narrow">
        <ReachNames columns={marks.length} />
      </div>
      <Reach marks={marks} />
      {closest !== null && (
        <span class="closest">
          most asked: <Words text={closest} />
        </span>
      )}
    </td>
  );
}
