import type { ReadableStream } from 'node:stream/web';
import { setTimeout as pause } from 'node:timers/promises';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { type ByteRanges, lengthInside } from './byte-ranges.ts';
import { refuse } from './geotiff-header.ts';
import { allowedAddress } from './tile-address.ts';

/*
 * The only file that reaches the network. It asks for ranges of bytes and takes nothing else: a server that would send
 * a whole file, another file than before or a packed body is refused before its body is read.
 */

/** How tiles are fetched over HTTP. */
export interface RemoteAccess {
  /** Hosts that may be asked, as in addresses; none: nothing is fetched. */
  readonly hosts: readonly string[];
  /** Spreads the waits between attempts, 0 to 1. */
  readonly random: () => number;
  /** For one attempt, headers and body. */
  readonly timeoutMs?: number;
  /** The first wait; each later one is twice as long. */
  readonly waitMs?: number;
}

// All design: an hour in the hills is planned by somebody who waits, so a dead server is told of within a minute.
const TIMEOUT_MS = 15_000;
const WAIT_MS = 300;
const ATTEMPTS = 3;
const MOST_REDIRECTS = 3;
/** Read on opening: the whole directory of a cloud-optimised tile. */
const HEAD_BYTES = 32 * 1024;
/** Ranges asked for together and this near each other come in one request of at most so many bytes. */
const NEAR_BYTES = 16 * 1024;
const LONGEST_REQUEST_BYTES = 8 * 1024 * 1024;
/** Longer single ranges are a header's lie: a block of 5,792² doubles packs to less. */
const LONGEST_RANGE_BYTES = 128 * 1024 * 1024;
const REQUESTS_AT_ONCE = 4;

/** What tells one state of a file from the next. */
interface FileState {
  readonly total: number;
  readonly etag: string | null;
  readonly modified: string | null;
}

const versionOf = ({ total, etag, modified }: FileState): string => `${total}-${etag ?? modified ?? ''}`;

const marksOf = (headers: Headers) => ({
  etag: headers.get('etag'),
  modified: headers.get('last-modified'),
});

/** Worth another attempt. */
class Passing extends Error {}

const changed = (): EngineError =>
  new EngineError('dem-changed', 'the tile changed on its server while it was read: ask again');

async function discard(response: Response): Promise<void> {
  await response.body?.cancel().catch(() => undefined);
}

/** Exactly `length` bytes of a body, and never more. */
async function readBody(response: Response, length: number): Promise<Uint8Array> {
  const bytes = new Uint8Array(length);
  let at = 0;
  for await (const part of (response.body as ReadableStream<Uint8Array> | null) ?? []) {
    if (at + part.length > length) throw new Passing('the server sent more than it was asked for');
    bytes.set(part, at);
    at += part.length;
  }
  if (at < length) throw new Passing('the answer ended early');
  return bytes;
}

/** Bytes of a file, of which an earlier state may be known. */
interface Asked {
  readonly address: string;
  readonly first: number;
  readonly last: number;
  readonly known: FileState | null;
  readonly access: RemoteAccess;
}

interface Part {
  readonly bytes: Uint8Array;
  readonly state: FileState;
}

/** The state and the length of the part that a 206 answer holds. */
function partHeaders(
  { headers }: Response,
  { first, last, known }: Asked,
): Pick<Part, 'state'> & { length: number } {
  const range = /^bytes (\d+)-(\d+)\/(\d+)$/.exec(headers.get('content-range') ?? '');
  const [from, to, total] = (range ?? []).slice(1).map(Number);
  if (from === undefined || to === undefined || total === undefined || !Number.isSafeInteger(total))
    throw refuse('its server does not say which bytes it sends (Content-Range): keep a local copy');
  const encoding = headers.get('content-encoding');
  if (encoding !== null && encoding !== 'identity')
    throw refuse(
      message`its server packs what it sends (${encoding}), so bytes cannot be found: keep a local copy`,
    );
  const state = { total, ...marksOf(headers) };
  if (known !== null && versionOf(known) !== versionOf(state)) throw changed();
  if (from !== first || to !== Math.min(last, total - 1))
    throw new Passing('the server sent other bytes than it was asked for');
  return { state, length: to - from + 1 };
}

async function partOf(response: Response, asked: Asked): Promise<Part> {
  try {
    const { state, length } = partHeaders(response, asked);
    return { bytes: await readBody(response, length), state };
  } catch (error) {
    await discard(response);
    throw error;
  }
}

/** One attempt, redirects followed where they lead to a host of the list. */
async function attempt(asked: Asked): Promise<Part> {
  const { address, first, last, known, access } = asked;
  const signal = AbortSignal.timeout(access.timeoutMs ?? TIMEOUT_MS);
  const strong = known?.etag?.startsWith('W/') === true ? null : known?.etag;
  const unchanged = strong ?? known?.modified ?? null;
  let url = allowedAddress(address, access.hosts);
  for (let redirects = 0; ; redirects += 1) {
    const response = await fetch(url, {
      redirect: 'manual',
      signal,
      headers: {
        range: `bytes=${first}-${last}`,
        'accept-encoding': 'identity',
        ...(unchanged === null ? {} : { 'if-range': unchanged }),
      },
    });
    const { status } = response;
    if (status === 206) return partOf(response, asked);
    await discard(response);
    if (status === 200) {
      const { etag, modified } = marksOf(response.headers);
      if (known !== null && (etag !== known.etag || modified !== known.modified)) throw changed();
      throw refuse('its server sends whole files only (it ignores Range): keep a local copy');
    }
    if (status === 412 || (status === 416 && known !== null)) throw changed();
    if (status === 429 || status >= 500) throw new Passing(`the server answered ${status}`);
    const to = response.headers.get('location');
    if (status < 300 || status >= 400 || to === null)
      throw refuse(
        message`its server answered ${status}: check the address, and that it may be read without a key`,
      );
    if (redirects >= MOST_REDIRECTS)
      throw refuse('its server redirects again and again: give the last address');
    url = allowedAddress(new URL(to, url).href, access.hosts);
  }
}

function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  if (error.name === 'TimeoutError' || error.name === 'AbortError') return 'no answer in time';
  const { cause } = error;
  return cause instanceof Error && error.message !== cause.message
    ? `${error.message}: ${cause.message}`
    : error.message;
}

/** A range of bytes, tried again a few times where the fault may pass. */
async function fetchPart(asked: Asked): Promise<Part> {
  const { address, access } = asked;
  let waitMs = access.waitMs ?? WAIT_MS;
  for (let tried = 1; ; tried += 1) {
    try {
      return await attempt(asked);
    } catch (error) {
      if (error instanceof EngineError) throw error;
      if (tried >= ATTEMPTS)
        throw new EngineError(
          'dem-unreachable',
          message`the tile ${address} cannot be fetched (${reasonOf(error)}, ${ATTEMPTS} attempts): try again later, or keep a local copy`,
        );
      await pause(waitMs * (0.5 + access.random()));
      waitMs *= 2;
    }
  }
}

/** A request under way. */
interface UnderWay {
  readonly first: number;
  readonly end: number;
  readonly bytes: Promise<Uint8Array>;
}

interface Wanted {
  readonly offset: number;
  readonly length: number;
  readonly resolve: (bytes: ArrayBuffer) => void;
  readonly reject: (error: unknown) => void;
}

/** Wanted ranges put together where they touch or nearly do. */
function joined(wanted: readonly Wanted[]): Wanted[][] {
  const groups: Wanted[][] = [];
  let first = 0;
  let end = 0;
  for (const one of [...wanted].sort((a, b) => a.offset - b.offset)) {
    const newEnd = Math.max(end, one.offset + one.length);
    const group = groups.at(-1);
    if (group !== undefined && one.offset <= end + NEAR_BYTES && newEnd - first <= LONGEST_REQUEST_BYTES) {
      group.push(one);
      end = newEnd;
    } else {
      groups.push([one]);
      first = one.offset;
      end = one.offset + one.length;
    }
  }
  return groups;
}

/**
 * A file on a server whose bytes are read by range. Opening costs one request, which also brings the header; ranges
 * asked for in the same turn are put together, and one that lies in a request under way waits for that.
 * @throws EngineError `dem-host`, `dem-unreadable` (a server that cannot do this), `dem-unreachable` (one that fails or
 * stalls: bounded, and worth asking again), `dem-changed` (open it again).
 */
export async function openHttpRanges(address: string, access: RemoteAccess): Promise<ByteRanges> {
  const head = await fetchPart({ address, first: 0, last: HEAD_BYTES - 1, known: null, access });
  const { state } = head;
  const fileSize = state.total;
  let waiting: Wanted[] = [];
  const underWay = new Set<UnderWay>();

  function ask(first: number, end: number): UnderWay {
    const asked = { address, first, last: end - 1, known: state, access };
    const bytes = fetchPart(asked).then((part) => part.bytes);
    const request = { first, end, bytes };
    underWay.add(request);
    const done = () => underWay.delete(request);
    bytes.then(done, done);
    return request;
  }

  async function partOfRequest({ first, bytes }: UnderWay, offset: number, length: number) {
    return (await bytes).slice(offset - first, offset - first + length).buffer as ArrayBuffer;
  }

  async function answer(group: readonly Wanted[]): Promise<void> {
    const first = Math.min(...group.map(({ offset }) => offset));
    const end = Math.max(...group.map(({ offset, length }) => offset + length));
    const request = ask(first, end);
    await Promise.all(
      group.map(({ offset, length, resolve, reject }) =>
        partOfRequest(request, offset, length).then(resolve, reject),
      ),
    );
  }

  async function answerAll(): Promise<void> {
    const groups = joined(waiting);
    waiting = [];
    const next = groups.values();
    const worker = async () => {
      for (const group of next) await answer(group);
    };
    await Promise.all(Array.from({ length: REQUESTS_AT_ONCE }, worker));
  }

  async function read(offset: number, length: number): Promise<ArrayBuffer> {
    const inside = lengthInside(offset, length, fileSize);
    if (inside > LONGEST_RANGE_BYTES)
      throw new Error(`a range of ${inside} bytes is more than any block takes`);
    if (offset + inside <= head.bytes.length) return head.bytes.slice(offset, offset + inside).buffer;
    for (const request of underWay)
      if (offset >= request.first && offset + inside <= request.end)
        return partOfRequest(request, offset, inside);
    return new Promise((resolve, reject) => {
      if (waiting.length === 0) setImmediate(answerAll);
      waiting.push({ offset, length: inside, resolve, reject });
    });
  }

  return { fileSize, version: versionOf(state), read };
}
