/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { wholeFigures } from './whole-figures.ts';

/** A date, or a grid reference as it is printed: read and copied as one. */
const WHOLE = /(\d{4}-\d\d-\d\d|\b\d{1,2}[A-Z] [A-Z]{2} \d{4,5} \d{4,5}\b)/;

/** A text of a plan in which no line ends inside a date or grid reference, or between a figure and its unit. */
export function Words({ text }: { readonly text: string }): VNode {
  const parts = wholeFigures(text).split(WHOLE);
  return <>{parts.map((part, index) => (index % 2 === 0 ? part : <span class="whole">{part}</span>))}</>;
}
