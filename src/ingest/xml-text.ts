const PREDEFINED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

/** A predefined entity or a numeric character reference: all that a file without DOCTYPE can hold. */
export const REFERENCE = /&(?:(amp|lt|gt|quot|apos)|#([0-9]{1,7})|#x([0-9a-fA-F]{1,6}));/y;

// https://www.w3.org/TR/xml/#charsets without tab, line feed and carriage return.
// biome-ignore lint/suspicious/noControlCharactersInRegex: finding control characters is its purpose
export const FORBIDDEN_CHARACTER = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/;

/** Whether XML 1.0 allows the code point. https://www.w3.org/TR/xml/#charsets */
export function isXmlCharacter(code: number): boolean {
  return (
    code === 0x9 ||
    code === 0xa ||
    code === 0xd ||
    (code >= 0x20 && code <= 0xd7ff) ||
    (code >= 0xe000 && code <= 0xfffd) ||
    (code >= 0x10000 && code <= 0x10ffff)
  );
}

/** Resolves references in text that the guard has passed. */
function resolveReferences(text: string): string {
  if (!text.includes('&')) return text;
  return text.replace(
    /&(?:(amp|lt|gt|quot|apos)|#([0-9]{1,7})|#x([0-9a-fA-F]{1,6}));/g,
    (whole, name: string | undefined, decimal: string | undefined, hex: string | undefined) => {
      if (name !== undefined) return PREDEFINED[name] ?? whole;
      const code = decimal === undefined ? Number.parseInt(hex ?? '', 16) : Number(decimal);
      return isXmlCharacter(code) ? String.fromCodePoint(code) : whole;
    },
  );
}

/** The same as the decoder that fast-xml-parser takes: no entity of a document's own is ever known. */
export const REFERENCE_DECODER = {
  decode: resolveReferences,
  reset: () => undefined,
  setExternalEntities: () => undefined,
  addInputEntities: () => undefined,
  setXmlVersion: () => undefined,
};
