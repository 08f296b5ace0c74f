import Negotiator from 'negotiator';

/** Media types: what comes in, what the client takes. */

export const GPX_TYPES = ['application/gpx+xml', 'application/xml', 'text/xml', 'application/octet-stream'];
export const JSON_TYPES = ['application/geo+json', 'application/json'];
export const MULTIPART = 'multipart/form-data';
export const JSON_TYPE = 'application/json';
export const HTML_TYPE = 'text/html';
export const GPX_TYPE = 'application/gpx+xml';

// RFC 9110 section 5.6.2.
const TOKEN = "[!#$%&'*+.^_`|~0-9A-Za-z-]+";
const MEDIA_TYPE = new RegExp(`^(${TOKEN}/${TOKEN})[ \\t]*(?:;.*)?$`);

/** `type/subtype` of a Content-Type in lower case, or `null` where it is missing or malformed. */
export function mediaTypeOf(header: string | undefined): string | null {
  return MEDIA_TYPE.exec(header?.trim() ?? '')?.[1]?.toLowerCase() ?? null;
}

/**
 * The media type that an Accept header wishes for most (RFC 9110 section 12.5.1); of those wished for alike the one it
 * names most closely, then first. A missing or empty header takes everything. `null`: it takes none of them.
 */
export function preferred(header: string | undefined, offered: readonly string[]): string | null {
  // Types are offered without parameters, so those of a range say nothing, but for its weight.
  const ranges = header?.replace(/;\s*(?!q=)[^;,]*/gi, '').trim() ?? '';
  const accept = ranges === '' ? '*/*' : ranges;
  return new Negotiator({ headers: { accept } }).mediaType([...offered]) ?? null;
}

/** First character of a text, byte order marks and white space left out, whatever its encoding; empty: none. */
export function firstCharacter(bytes: Uint8Array): string {
  const skipped = new Set([0x00, 0x09, 0x0a, 0x0d, 0x20, 0xef, 0xbb, 0xbf, 0xfe, 0xff]);
  const first = bytes.find((byte) => !skipped.has(byte));
  return first === undefined ? '' : String.fromCharCode(first);
}
