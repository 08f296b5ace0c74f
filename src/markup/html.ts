import type { ComponentChild, VNode } from 'preact';
import { jsxEscape, jsxTemplate } from 'preact/jsx-runtime';

/** What a template says between its gaps, by the template. */
const written = new WeakMap<TemplateStringsArray, string[]>();

function writtenIn(template: TemplateStringsArray): string[] {
  const known = written.get(template);
  if (known !== undefined) return known;
  // As in JSX: line breaks are for those who read the source.
  const texts = template.map((text) => text.replace(/\n\s*/g, ''));
  written.set(template, texts);
  return texts;
}

/**
 * HTML written out, for what stands on a page many times over: a part of a page like any other, but an element costs
 * nothing by itself. What stands in a gap is escaped; `null` and `false` are left out.
 * @example html`<th scope="row"><a href="${path}">${name}</a></th>`
 */
export function html(template: TemplateStringsArray, ...gaps: readonly ComponentChild[]): VNode {
  // The renderer escapes the texts of a list.
  const escaped = gaps.map((gap) => (Array.isArray(gap) ? gap : jsxEscape(gap)));
  return jsxTemplate(writtenIn(template), ...escaped);
}
