/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';

const DATE = /(\d{4}-\d\d-\d\d)/;
/** A figure and its unit stay on one line. */
const FIGURE =
  /(\d) (?=(?:km|m|mi|ft|min|h|L|kg|kcal|kJ|%|°C|°F|mph|km\/h|litres?|hours?|minutes?|days?|yards)(?![\p{L}\d]))/gu;

/** A text of a plan in which no line ends inside a date, or between a figure and its unit. */
export function Words({ text }: { readonly text: string }): VNode {
  const parts = text.replace(FIGURE, '$1\u00A0').split(DATE);
  return <>{parts.map((part, index) => (index % 2 === 0 ? part : <span class="date">{part}</span>))}</>;
}
