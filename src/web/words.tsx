/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { wholeFigures } from './whole-figures.ts';

/** A date, or a grid reference as it is printed: read and copied as one. */
const WHOLE = /(\d{4}-\d\d-\d\d|\b\d{1,2}[A-Z] [A-Z]{2} \d{4,5} \d{4,5}\b)/;

/** What stands in a cell that has nothing to say: a reader calls it “dash”, or is silent. */
const NOTHING = '–';

/** The words of a cell; that nothing stands there is said in a word to those who hear it. */
export function CellWords({ text }: { readonly text: string }): VNode {
  if (text !== NOTHING) return <Words text={text} />;
  return (
    <>
      <span aria-hidden="true">{NOTHING}</span>
      <span class="unseen">no entry</span>
    </>
  );
}

/** A text of a plan in which no line ends inside a date or grid reference, or between a figure and its unit. */
export function Words({ text }: { readonly text: string }): VNode {
  const parts = wholeFigures(text).split(WHOLE);
  return <>{parts.map((part, index) => (index % 2 === 0 ? part : <span class="whole">{part}</span>))}</>;
}
