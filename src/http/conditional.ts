/** Conditional requests (RFC 9110 section 13). */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { EngineError } from '../errors.ts';

export function strongTag(id: string, revision: number | string): string {
  return `"${id}-${revision}"`;
}

/** The tags of an If-Match or If-None-Match header. Ours hold no comma and no quote. */
function tagsOf(header: string): string[] {
  return header.split(',').map((tag) => tag.trim());
}

/**
 * Sets the ETag, and answers 304 where the client has this version already: then true, and the reply is sent.
 */
export function notModified(request: FastifyRequest, reply: FastifyReply, tag: string): boolean {
  reply.header('etag', tag);
  const header = request.headers['if-none-match'];
  if (header === undefined) return false;
  // Weak comparison: a cache may have weakened the tag.
  const known = tagsOf(header).some((one) => one === '*' || one.replace(/^W\//, '') === tag);
  if (known) reply.code(304).send();
  return known;
}

/**
 * Holds a change to the version that the client has seen.
 *
 * @param needed whether If-Match has to be sent
 * @returns whether it was sent
 * @throws EngineError `precondition-required` or `precondition-failed`
 */
export function checkIfMatch(request: FastifyRequest, tag: string, needed: boolean): boolean {
  const header = request.headers['if-match'];
  if (header === undefined) {
    if (!needed) return false;
    throw new EngineError(
      'precondition-required',
      'send If-Match with the ETag that you have seen, so that nobody’s change is lost',
    );
  }
  // Strong comparison: a weak tag never matches.
  if (!tagsOf(header).some((one) => one === '*' || one === tag)) {
    throw new EngineError(
      'precondition-failed',
      'it has changed since: fetch it again and repeat the change',
    );
  }
  return true;
}
