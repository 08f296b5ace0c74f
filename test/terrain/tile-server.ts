import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll } from 'vitest';

/** How the server answers the next requests, instead of well. */
export type Trouble =
  | 'fails'
  | 'stalls'
  | 'stallsInBody'
  | 'truncates'
  | 'wholeFile'
  | 'packs'
  | 'otherBytes'
  | { readonly redirectTo: string };

/** A file server on loopback that counts what it is asked, and can be told to misbehave. */
export async function tileServer(first: Uint8Array) {
  let bytes = first;
  let etag = '"1"';
  let trouble: { readonly kind: Trouble; left: number } | null = null;
  const requests: string[] = [];

  function misbehave(kind: Trouble, range: readonly [number, number], reply: ServerResponse): void {
    const [from, to] = range;
    const part = bytes.subarray(from, to + 1);
    const head = { 'content-range': `bytes ${from}-${to}/${bytes.length}`, etag };
    if (typeof kind === 'object') reply.writeHead(302, { location: kind.redirectTo }).end();
    else if (kind === 'fails') reply.writeHead(503).end();
    else if (kind === 'wholeFile') reply.writeHead(200, { etag }).end(bytes);
    else if (kind === 'packs') reply.writeHead(206, { ...head, 'content-encoding': 'gzip' }).end(part);
    else if (kind === 'otherBytes')
      reply.writeHead(206, { ...head, 'content-range': `bytes 7-9/${bytes.length}` }).end('abc');
    else if (kind === 'truncates') {
      reply.writeHead(206, { ...head, 'content-length': part.length });
      reply.write(part.subarray(0, 10), () => reply.destroy());
    } else if (kind === 'stallsInBody') {
      reply.writeHead(206, { ...head, 'content-length': part.length });
      reply.write(part.subarray(0, 10));
    }
    // `stalls`: no answer at all.
  }

  const server = createServer((request, reply) => {
    const match = /^bytes=(\d+)-(\d+)$/.exec(request.headers.range ?? '');
    requests.push(request.headers.range ?? 'no range');
    const from = Number(match?.[1] ?? 0);
    const to = Math.min(Number(match?.[2] ?? bytes.length - 1), bytes.length - 1);
    if (trouble !== null && trouble.left > 0) {
      trouble.left -= 1;
      misbehave(trouble.kind, [from, to], reply);
      return;
    }
    const wanted = request.headers['if-range'];
    if (wanted !== undefined && wanted !== etag) {
      reply.writeHead(200, { etag }).end(bytes);
      return;
    }
    reply
      .writeHead(206, { 'content-range': `bytes ${from}-${to}/${bytes.length}`, etag })
      .end(bytes.subarray(from, to + 1));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  afterAll(() => {
    server.closeAllConnections();
    server.close();
  });
  const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    host,
    address: `http://${host}/tile.tif`,
    /** The ranges asked for since the last call. */
    asked: () => requests.splice(0),
    misbehave(kind: Trouble, times = Number.POSITIVE_INFINITY) {
      trouble = { kind, left: times };
    },
    behave() {
      trouble = null;
    },
    replace(by: Uint8Array) {
      bytes = by;
      etag = `"${Number(etag.slice(1, -1)) + 1}"`;
    },
  };
}
