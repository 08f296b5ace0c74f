/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChild, VNode } from 'preact';
import { jsxEscape, jsxTemplate } from 'preact/jsx-runtime';

/**
 * HTML written out, for what stands on a page many times over: a part of a page like any other, but an element costs
 * nothing by itself. What stands in a gap is escaped; `null` and `false` are left out.
 * @example html`<th scope="row"><a href="${path}">${name}</a></th>`
 */
export function html(template: TemplateStringsArray, ...gaps: readonly ComponentChild[]): VNode {
  // The renderer escapes the texts of a list.
  const escaped = gaps.map((gap) => (Array.isArray(gap) ? gap : jsxEscape(gap)));
  // As in JSX: line breaks are for those who read the source.
  const texts = template.map((text) => text.replace(/\n\s*/g, ''));
  return jsxTemplate(texts, ...escaped);
}

const UNITS = 'km/h|km|mi|mph|m|ft|min|h|L|kg|g|kcal|kJ|%|°C|°F|litres?|hours?|minutes?|days?|yards|[NSEW]';
const FIGURE = new RegExp(`(?<=\\d[°′]?) (?=(?:${UNITS})(?![\\p{L}\\d]))`, 'gu');
/** `1 h 25 min`. */
const DURATION = /(?<=\d\u00A0h) (?=\d+\u00A0min)/g;

/** A text in which no line ends between a figure and its unit: a no-break space stands there. */
export function wholeFigures(text: string): string {
  const figures = text.replace(FIGURE, '\u00A0');
  return figures.includes('\u00A0h ') ? figures.replace(DURATION, '\u00A0') : figures;
}

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
export function wordsIn(text: string): ComponentChild {
  const parts = wholeFigures(text).split(WHOLE);
  if (parts.length === 1) return parts[0];
  return parts.map((part, index) => (index % 2 === 0 ? part : html`<span class="whole">${part}</span>`));
}

/** The same as an element. */
export const Words = ({ text }: { readonly text: string }): VNode => <>{wordsIn(text)}</>;
