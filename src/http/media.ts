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

interface Wish {
  /** 0 to 1; 0 refuses. */
  readonly quality: number;
  /** Of the range that decides: -1 none, 0 anything, 1 the type, 2 the very subtype. */
  readonly specificity: number;
}

/** The most specific range that matches decides (RFC 9110 section 12.5.1). A missing or empty header takes everything. */
function wishFor(header: string | undefined, mediaType: string): Wish {
  if (header === undefined || header.trim() === '') return { quality: 1, specificity: 0 };
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
  return { quality, specificity };
}

/**
 * The media type that an Accept header wishes for most; of those wished for alike the one it names most closely, then
 * the first offered. `null`: it takes none of them.
 */
export function preferred(header: string | undefined, offered: readonly string[]): string | null {
  let best: { readonly type: string; readonly wish: Wish } | null = null;
  for (const type of offered) {
    const wish = wishFor(header, type);
    if (!(wish.quality > 0)) continue;
    const isBetter =
      best === null ||
      wish.quality > best.wish.quality ||
      (wish.quality === best.wish.quality && wish.specificity > best.wish.specificity);
    if (isBetter) best = { type, wish };
  }
  return best?.type ?? null;
}

/** First character of a text, byte order marks and white space left out, whatever its encoding; empty: none. */
export function firstCharacter(bytes: Uint8Array): string {
  const skipped = new Set([0x00, 0x09, 0x0a, 0x0d, 0x20, 0xef, 0xbb, 0xbf, 0xfe, 0xff]);
  const first = bytes.find((byte) => !skipped.has(byte));
  return first === undefined ? '' : String.fromCharCode(first);
}
