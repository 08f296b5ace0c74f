// Unicode Standard Annex 9: embeddings, overrides and isolates that can turn the rest of a line around.
const TURNING = /[\u202A-\u202E\u2066-\u2069]/g;
// Control characters that HTML does not allow (WHATWG HTML, 13.2.3.5), and line ends, which mean nothing on a page.
const CONTROLS = /\p{Cc}+/gu;

/**
 * A copy of plain data whose texts cannot turn a line around or hold control characters. Readers of files strip them
 * already; a page that is handed to people does not rely on it.
 */
export function plainTexts<T>(data: T): T {
  return JSON.parse(JSON.stringify(data), (_, value: unknown) =>
    typeof value === 'string' ? value.replace(TURNING, '').replace(CONTROLS, ' ') : value,
  );
}

/** A text as a CSS string: all but plain letters, digits and spaces by their numbers, so that none can end it. */
export const cssText = (text: string): string =>
  `"${[...text].map((sign) => (/[a-zA-Z0-9 ]/.test(sign) ? sign : `\\${sign.codePointAt(0)?.toString(16)} `)).join('')}"`;
