// xsd:decimal plus the exponent form, which some writers emit. Nothing that Number() alone would let
// through ('', '0x10', 'Infinity') and nothing that parseFloat() would cut short ('47,5').
const DECIMAL = /^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,4})?$/;

const EDGE_SPACE = /^[ \t\r\n]+|[ \t\r\n]+$/g;

/**
 * Reads a decimal number; surrounding white space is allowed, as in XML Schema.
 * `null` means that the text is no finite decimal number. `-0` reads as 0.
 * @example parseDecimal('+46.5') // 46.5
 */
export function parseDecimal(text: string): number | null {
  if (!DECIMAL.test(text)) {
    const trimmed = text.replace(EDGE_SPACE, '');
    return trimmed === text ? null : parseDecimal(trimmed);
  }
  const value = Number(text);
  return Number.isFinite(value) ? value + 0 : null;
}

/** What to write instead of a text that is no decimal number; always a whole sentence. */
export function decimalHint(text: string): string {
  const trimmed = text.replace(EDGE_SPACE, '');
  if (/^[+-]?[0-9]+,[0-9]+$/.test(trimmed)) {
    return `It has a decimal comma; write a decimal point: ${trimmed.slice(0, 24).replace(',', '.')}.`;
  }
  if (/[°'"NSEWnsew]/.test(trimmed) && /^[-+ 0-9.°'"NSEWnsew]+$/.test(trimmed)) {
    return 'Write decimal degrees, such as 46.1035, negative for south and west.';
  }
  return 'Write a plain decimal number such as 46.1035.';
}

/** A coordinate rounded to 1e-7 degrees (11 mm), never -0. */
export function roundCoordinate(valueDeg: number): number {
  return Math.round(valueDeg * 1e7) / 1e7 + 0;
}
