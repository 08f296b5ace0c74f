/** What every request has to pass before its body is read. */

import type { FastifyReply, FastifyRequest } from 'fastify';
import { EngineError } from '../errors.ts';
import { INGEST_LIMITS } from '../ingest/limits.ts';
import { message } from '../message.ts';
import type { App } from './deps.ts';
import { mediaTypeOf, preferred } from './media.ts';
import { NO_QUERY } from './query.ts';

/** Which header names the media types that a method takes (RFC 9110, RFC 5789). */
const TAKES_HEADER: Readonly<Record<string, string>> = {
  POST: 'accept-post',
  PATCH: 'accept-patch',
  PUT: 'accept',
};

/** The methods of each path, collected as routes are registered. */
function methodTable(app: App): (path: string) => readonly string[] {
  const table = new Map<string, Set<string>>();
  app.addHook('onRoute', (route) => {
    const methods = table.get(route.url) ?? new Set();
    for (const method of [route.method].flat()) methods.add(method);
    table.set(route.url, methods);
    route.schema = { querystring: NO_QUERY, ...route.schema };
  });
  return (path) => {
    const pieces = path.split('/');
    for (const [url, methods] of table) {
      const wanted = url.split('/');
      const matches =
        wanted.length === pieces.length &&
        wanted.every((piece, i) => (piece.startsWith(':') ? pieces[i] !== '' : piece === pieces[i]));
      if (matches) return [...methods, 'OPTIONS'].sort();
    }
    return [];
  };
}

function checkBody(request: FastifyRequest, reply: FastifyReply): void {
  const { headers } = request;
  const encoding = headers['content-encoding'];
  if (encoding !== undefined && encoding.trim().toLowerCase() !== 'identity') {
    reply.header('accept-encoding', 'identity');
    throw new EngineError('compressed-not-supported', 'the body is compressed: send it as it is');
  }
  const limit = INGEST_LIMITS.bodyBytes;
  const found = Number(headers['content-length'] ?? 0);
  if (found > limit) {
    const reason = message`the body has ${found} bytes, over ${limit} (10 MiB): thin or split the line`;
    throw new EngineError('body-too-large', reason, { limit, found });
  }
  const { consumes } = request.routeOptions.config;
  if (consumes === undefined) return;
  const mediaType = mediaTypeOf(headers['content-type']);
  if (mediaType !== null && consumes.includes(mediaType)) return;
  reply.header(TAKES_HEADER[request.method] ?? 'accept', consumes.join(', '));
  throw new EngineError(
    'unsupported-media-type',
    headers['content-type'] === undefined
      ? message`there is no Content-Type: send one of ${consumes.join(', ')}`
      : message`this Content-Type is not read here: send one of ${consumes.join(', ')}`,
  );
}

const SAFE_METHODS: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS', 'TRACE']);

/**
 * Refuses what a page of another site sends through the reader's browser, which may reach this machine where the site
 * itself cannot. Browsers say where a request comes from (Fetch Metadata; of older ones the Origin); other clients say
 * neither.
 */
function checkSameSite({ method, headers }: FastifyRequest): void {
  if (SAFE_METHODS.has(method)) return;
  const { origin, host } = headers;
  const site = headers['sec-fetch-site'];
  const isOwn =
    site === undefined
      ? origin === undefined || (URL.canParse(origin) && new URL(origin).host === host?.toLowerCase())
      : site === 'same-origin' || site === 'none';
  if (isOwn) return;
  throw new EngineError(
    'cross-site',
    'a page of another site has sent this: open the page here and send it again',
  );
}

/**
 * Whether a Host header names this service: this machine's own loopback names, or the host of the public URL.
 * A page of another site that points its own name at this machine (DNS rebinding) comes with that name.
 */
function isOurHost(host: string, publicHost: string): boolean {
  if (!/^[A-Za-z0-9.:[\]-]{1,255}$/.test(host) || !URL.canParse(`http://${host}`)) return false;
  const { hostname } = new URL(`http://${host}`);
  return ['localhost', '[::1]', publicHost].includes(hostname) || /^127(\.[0-9]{1,3}){3}$/.test(hostname);
}

/** Registers the checks; to be called before any route is registered. */
export function guard(app: App, publicUrl: string): void {
  const methodsOf = methodTable(app);
  const publicHost = new URL(publicUrl).hostname;
  let closing = false;
  app.addHook('preClose', async () => {
    closing = true;
  });

  app.addHook('onRequest', async (request, reply) => {
    reply.header('cache-control', 'private, no-cache').header('vary', 'Accept');
    if (closing) {
      reply.header('connection', 'close');
      throw new EngineError('unavailable', 'the service is stopping: try again in a few seconds');
    }
    if (!isOurHost(request.headers.host ?? '', publicHost)) {
      throw new EngineError(
        'misdirected-host',
        'this service does not answer under the name in the Host header',
      );
    }
    checkSameSite(request);
    const [path = ''] = request.url.split('?');
    if (/%0|%1[0-9a-f]|%7f/i.test(path)) {
      throw new EngineError('bad-request', 'the address holds a control character');
    }
    if (request.is404) {
      const methods = methodsOf(path);
      if (methods.length === 0) throw new EngineError('not-found', 'there is nothing at this address');
      reply.header('allow', methods.join(', '));
      if (request.method === 'OPTIONS') return reply.code(204).send();
      throw new EngineError('method-not-allowed', message`this address takes ${methods.join(', ')}`);
    }
    const { produces = ['application/json'] } = request.routeOptions.config;
    if (preferred(request.headers.accept, produces) === null) {
      throw new EngineError(
        'not-acceptable',
        message`the answer comes as ${produces.join(' or ')} only: let Accept take it`,
      );
    }
    checkBody(request, reply);
    return undefined;
  });
}
