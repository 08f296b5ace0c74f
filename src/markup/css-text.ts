/** A text as a CSS string: all but plain letters, digits and spaces by their numbers, so that none can end it. */
export const cssText = (text: string): string =>
  `"${[...text].map((sign) => (/[a-zA-Z0-9 ]/.test(sign) ? sign : `\\${sign.codePointAt(0)?.toString(16)} `)).join('')}"`;
