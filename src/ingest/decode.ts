import { at } from '../array.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { type Note, noteIf } from '../notes.ts';
import { quote } from './quote.ts';

interface DecodedText {
  readonly text: string;
  readonly notes: readonly Note[];
}

const ACCEPTED = 'UTF-8, UTF-16 with a byte order mark, ISO-8859-1, Windows-1252 or US-ASCII';

// https://encoding.spec.whatwg.org/#windows-1252: what bytes 0x80 to 0x9F mean. Own table, because
// Node 20's TextDecoder('windows-1252') leaves these bytes as control characters; a test pins it.
const WINDOWS_1252 = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/** How the encodings that a declaration may name are read. One of UTF-16 that could be read byte by byte is not true. */
const ENCODINGS: ReadonlyMap<string, 'utf8' | 'windows1252' | 'ascii' | 'utf16'> = new Map([
  ...(['utf-8', 'utf8'] as const).map((name) => [name, 'utf8'] as const),
  ...['iso-8859-1', 'iso8859-1', 'iso_8859-1', 'latin1', 'latin-1', 'windows-1252', 'cp1252'].map(
    (name) => [name, 'windows1252'] as const,
  ),
  ...['us-ascii', 'ascii'].map((name) => [name, 'ascii'] as const),
  ...['utf-16', 'utf-16le', 'utf-16be'].map((name) => [name, 'utf16'] as const),
]);

/**
 * Turns the bytes of a file into text: a byte order mark wins, then the XML declaration, then UTF-8.
 * @throws EngineError `encoding`, with the offset of the first byte that does not fit.
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (startsWith(bytes, 0xff, 0xfe, 0, 0) || startsWith(bytes, 0, 0, 0xfe, 0xff)) throw unknown('UTF-32');
  if (startsWith(bytes, 0xef, 0xbb, 0xbf)) return { text: strict(bytes, 'utf-8'), notes: [] };
  if (startsWith(bytes, 0xff, 0xfe)) return { text: strict(bytes, 'utf-16le'), notes: [] };
  if (startsWith(bytes, 0xfe, 0xff)) return { text: strict(bytes, 'utf-16be'), notes: [] };
  if (startsWith(bytes, 0x3c, 0) || startsWith(bytes, 0, 0x3c)) {
    throw new EngineError(
      'encoding',
      'The file is UTF-16 without a byte order mark. Save it again as UTF-8.',
      { byteOffset: 0 },
    );
  }
  const declared = declaredEncoding(bytes);
  const encoding = ENCODINGS.get(declared?.toLowerCase() ?? 'utf-8');
  if (encoding === 'windows1252') return { text: windows1252(bytes), notes: [] };
  if (encoding === 'ascii') return { text: ascii(bytes), notes: [] };
  if (encoding === undefined) throw unknown(declared ?? '');
  const notes = noteIf(encoding === 'utf16', { code: 'encoding-declared-wrong', values: {} });
  return { text: strict(bytes, 'utf-8'), notes };
}

function unknown(name: string): EngineError {
  return new EngineError(
    'encoding',
    message`The file is written in ${quote(name)}, which is not read here. Save it again as UTF-8 (read are ${ACCEPTED}).`,
    { byteOffset: 0 },
  );
}

function startsWith(bytes: Uint8Array, ...head: number[]): boolean {
  return bytes.length >= head.length && head.every((value, index) => bytes[index] === value);
}

/** The name in `<?xml … encoding="…"?>`, or `null`. Every encoding in question writes it in ASCII. */
function declaredEncoding(bytes: Uint8Array): string | null {
  const head = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.length, 1024)).toString('latin1');
  const declaration = /^\s*<\?xml\s([^?>]*)/.exec(head)?.[1];
  if (declaration === undefined) return null;
  return /(?:^|\s)encoding\s*=\s*["']([^"']*)["']/.exec(declaration)?.[1] ?? null;
}

function strict(bytes: Uint8Array, label: 'utf-8' | 'utf-16le' | 'utf-16be'): string {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    const byteOffset = firstBadByte(bytes, label);
    const shown = at(bytes, byteOffset).toString(16).toUpperCase().padStart(2, '0');
    throw new EngineError(
      'encoding',
      message`Byte ${byteOffset} of the file (0x${shown}) is not ${label.toUpperCase()}. Save the file again as UTF-8, or declare its real encoding.`,
      { byteOffset },
    );
  }
}

/** Decodes leniently and finds the first replacement character that the file did not hold itself. */
function firstBadByte(bytes: Uint8Array, label: 'utf-8' | 'utf-16le' | 'utf-16be'): number {
  const text = new TextDecoder(label, { ignoreBOM: true }).decode(bytes);
  let byteOffset = 0;
  let from = 0;
  for (let at = text.indexOf('\uFFFD'); at !== -1; at = text.indexOf('\uFFFD', from)) {
    byteOffset += label === 'utf-8' ? Buffer.byteLength(text.slice(from, at), 'utf8') : 2 * (at - from);
    const here = bytes.subarray(byteOffset, byteOffset + 3);
    const genuine =
      label === 'utf-8'
        ? startsWith(here, 0xef, 0xbf, 0xbd)
        : startsWith(here, ...(label === 'utf-16le' ? [0xfd, 0xff] : [0xff, 0xfd]));
    if (!genuine) return Math.min(byteOffset, bytes.length - 1);
    byteOffset += label === 'utf-8' ? 3 : 2;
    from = at + 1;
  }
  return bytes.length - 1;
}

function windows1252(bytes: Uint8Array): string {
  const latin1 = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
  return latin1.replace(/[\u0080-\u009f]/g, (c) => WINDOWS_1252[c.charCodeAt(0) - 0x80] ?? c);
}

function ascii(bytes: Uint8Array): string {
  const byteOffset = bytes.findIndex((byte) => byte > 0x7f);
  if (byteOffset !== -1) {
    throw new EngineError(
      'encoding',
      message`Byte ${byteOffset} of the file is not US-ASCII, which its first line declares. Save the file again as UTF-8.`,
      { byteOffset },
    );
  }
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
}
