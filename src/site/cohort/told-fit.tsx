import type { VNode } from 'preact';
import { html, wordsIn } from '../../markup/words.tsx';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { Reach, type ReachMark, ReachNames } from '../reach.tsx';
import type { ShortlistReason } from './shortlist.ts';

/** One answer of a fit, its verdict named where it is none that one hopes for. */
export function Reason({ question, verdict, text }: ShortlistReason): VNode {
  const named = verdict === 'fits' ? '' : ` (${VERDICT_TEXT[verdict]})`;
  return html`<p><strong>${question}${named}:</strong> ${wordsIn(text)}</p>`;
}

/** The cell beside a fit's two rows: demand against what the group can do, and what is asked most. */
export function DrawnCell({
  marks,
  closest,
}: {
  readonly marks: readonly ReachMark[];
  readonly closest: string | null;
}): VNode {
  return html`
    <td class="drawn" rowspan="2">
      <div class="narrow">${ReachNames({ columns: marks.length })}</div>
      ${Reach({ marks })}
      ${closest !== null && html`<span class="closest">most asked: ${wordsIn(closest)}</span>`}
    </td>
  `;
}
