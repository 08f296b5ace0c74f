/** What pages are asked with and answered with. */
import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type Type from 'typebox';
import { bodyBytes } from '../http/body.ts';
import type { ResourceDeps } from '../http/deps.ts';
import { HTML_TYPE } from '../http/media.ts';
import { paramsOnly } from '../http/query.ts';
import { decodeText } from '../ingest/decode.ts';
import { closed } from '../schema.ts';
import type { UnitSystem } from '../units.ts';

/** What a page needs to know of the service and of the reader. Made from the request, the same for all pages. */
export interface PageFrame {
  /** The address of a path of the service, such as `/routes`: with what its public address puts before it. */
  readonly to: (path: string) => string;
  /** Path and query of this page, as `to` takes it: where a form leads back to. */
  readonly here: string;
  readonly units: UnitSystem;
  /** What was done just before, in a sentence; `null`: nothing. */
  readonly done: string | null;
  /** `YYYY-MM-DD` in UTC, for the days that forms offer. */
  readonly today: string;
  /** Words that the elevation tiles ask for: they stand at the foot of every page. */
  readonly attribution: readonly string[];
  readonly styleUrl: string;
  readonly drawingStyleUrl: string;
  /** The address of a script of `site/scripts` by its name without ending. */
  readonly scriptUrl: (name: string) => string;
}

export type FrameOf = (request: FastifyRequest) => PageFrame;

/** What each resource of pages is given. */
export interface PageDeps extends ResourceDeps {
  readonly frame: FrameOf;
}

/** A list is read whole where a page is made of all of it. */
export const ALL = { limit: 10_000, after: null };

const schemaOf = <T extends Type.TObject>(params: T) => ({ hide: true, params });
const NO_PARAMS = closed({});

/**
 * The options of every GET of a page. A page reads its query itself: forms repeat names, and what a page does not know
 * does no harm.
 */
export const page = <T extends Type.TObject = typeof NO_PARAMS>(params?: T, mediaType = HTML_TYPE) => ({
  config: { produces: [mediaType] },
  validatorCompiler: paramsOnly,
  schema: schemaOf((params ?? NO_PARAMS) as T),
});

export const post = <T extends Type.TObject = typeof NO_PARAMS>(
  params?: T,
  mediaType = 'application/x-www-form-urlencoded',
) => ({
  config: { produces: [HTML_TYPE], consumes: [mediaType] },
  schema: schemaOf((params ?? NO_PARAMS) as T),
});

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

/** Sends a page: style and scripts from this service alone. What is made in parts is shown as it comes. */
export const sendPage = (
  reply: FastifyReply,
  html: string | AsyncIterable<string>,
  status = 200,
): FastifyReply =>
  reply
    .code(status)
    .type(`${HTML_TYPE}; charset=utf-8`)
    .header('vary', 'Accept, Cookie')
    .header('content-security-policy', POLICY)
    // With no referrer at all a browser sends a form's origin as null.
    .header('referrer-policy', 'same-origin')
    .send(typeof html === 'string' ? html : Readable.from(html, { objectMode: false }));

export function queryOf(request: FastifyRequest): URLSearchParams {
  const at = request.url.indexOf('?');
  return new URLSearchParams(at < 0 ? '' : request.url.slice(at + 1));
}

export const formOf = (request: FastifyRequest): URLSearchParams =>
  new URLSearchParams(decodeText(bodyBytes(request)).text);

/** Leads to another page after a form was taken, so that a reload sends nothing again. */
export const seeOther = (reply: FastifyReply, url: string): FastifyReply =>
  reply.code(303).header('location', url).send();
