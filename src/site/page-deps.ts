import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { ResourceDeps } from '../http/deps.ts';
import { HTML_TYPE } from '../http/media.ts';
import { paramsOnly } from '../http/query.ts';
import type { FrameOf } from './page-frame.ts';

/** What each resource of pages is given. */
export interface PageDeps extends ResourceDeps {
  readonly frame: FrameOf;
}

/**
 * Of every GET of a page, to be spread into its options. A page reads its query itself: forms repeat names, and what a
 * page does not know does no harm.
 */
export const PAGE = { config: { produces: [HTML_TYPE] }, validatorCompiler: paramsOnly };

const POLICY = [
  "default-src 'none'",
  "style-src 'self'",
  "script-src 'self'",
  "connect-src 'self'",
  "img-src 'self' data:",
  "worker-src 'self'",
  "manifest-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join(';');

/** Gives the answer the headers of a page: style and scripts from this service alone. */
function asPage(reply: FastifyReply, status: number): FastifyReply {
  return (
    reply
      .code(status)
      .type(`${HTML_TYPE}; charset=utf-8`)
      .header('vary', 'Accept, Cookie')
      .header('content-security-policy', POLICY)
      // With no referrer at all a browser sends a form's origin as null.
      .header('referrer-policy', 'same-origin')
  );
}

export const sendPage = (reply: FastifyReply, html: string, status = 200): FastifyReply =>
  asPage(reply, status).send(html);

/** Sends a page as its parts are made, so that a browser shows the first of them meanwhile. */
export const sendPageInParts = (
  reply: FastifyReply,
  parts: AsyncIterable<string>,
  status = 200,
): FastifyReply => asPage(reply, status).send(Readable.from(parts, { objectMode: false }));

/** The parameters of a page's address. */
export function queryOf(request: FastifyRequest): URLSearchParams {
  const at = request.url.indexOf('?');
  return new URLSearchParams(at < 0 ? '' : request.url.slice(at + 1));
}
