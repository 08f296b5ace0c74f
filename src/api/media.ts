/** Media types: what comes in, what the client takes. */

export const GPX_TYPES = ['application/gpx+xml', 'application/xml', 'text/xml', 'application/octet-stream'];
export const JSON_TYPES = ['application/geo+json', 'application/json'];
export const MULTIPART = 'multipart/form-data';

// RFC 9110 section 5.6.2.
const TOKEN = "[!#$%&'*+.^_`|~0-9A-Za-z-]+";
const MEDIA_TYPE = new RegExp(`^(${TOKEN}/${TOKEN})[ \\t]*(?:;.*)?$`);

/** `type/subtype` of a Content-Type in lower case, or `null` where it is missing or malformed. */
export function mediaTypeOf(header: string | undefined): string | null {
  return MEDIA_TYPE.exec(header?.trim() ?? '')?.[1]?.toLowerCase() ?? null;
}

/**
 * Whether an Accept header takes a media type: the most specific range that matches decides, and q=0 refuses
 * (RFC 9110 section 12.5.1). A missing or empty header takes everything.
 */
export function accepts(header: string | undefined, mediaType: string): boolean {
  if (header === undefined || header.trim() === '') return true;
  const [type = ''] = mediaType.split('/');
  let specificity = -1;
  let quality = 0;
  for (const part of header.split(',').slice(0, 100)) {
    const [range = '', ...parameters] = part.split(';').map((piece) => piece.trim().toLowerCase());
    const rank = [`*/*`, `${type}/*`, mediaType].indexOf(range);
    if (rank <= specificity) continue;
    specificity = rank;
    const q = parameters.find((parameter) => parameter.startsWith('q='));
    quality = q === undefined ? 1 : Number(q.slice(2));
  }
  return specificity >= 0 && quality > 0;
}

/** First character of a text, byte order marks and white space left out, whatever its encoding; empty: none. */
export function firstCharacter(bytes: Uint8Array): string {
  const skipped = new Set([0x00, 0x09, 0x0a, 0x0d, 0x20, 0xef, 0xbb, 0xbf, 0xfe, 0xff]);
  const first = bytes.find((byte) => !skipped.has(byte));
  return first === undefined ? '' : String.fromCharCode(first);
}
