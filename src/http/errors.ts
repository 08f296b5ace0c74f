import { randomUUID } from 'node:crypto';
import type { Socket } from 'node:net';
import type { ConnectionError, FastifyReply, FastifyRequest } from 'fastify';
import { EngineError, type ErrorCode } from '../errors.ts';
import { HTML_TYPE, JSON_TYPE, preferred } from './media.ts';
import { knownError, PROBLEM_TYPE, problemOf } from './problem.ts';

const RETRY_S = '5';
/** An unread body up to this size is let run out, so that the client gets to read the answer (design). */
const DRAINED_BYTES = 64 * 1024 * 1024;

/** Whether more of the body may come than is worth waiting for. */
function isEndless({ headers, raw }: FastifyRequest): boolean {
  if (raw.complete) return false;
  return headers['transfer-encoding'] !== undefined || Number(headers['content-length'] ?? 0) > DRAINED_BYTES;
}

/** Programs ask under these; they get problem documents whatever they accept. */
const OF_PROGRAMS = /^\/(v1|ogc)(\/|$)/;

function wantsPage({ url, headers }: FastifyRequest): boolean {
  if (OF_PROGRAMS.test(url)) return false;
  return preferred(headers.accept, [PROBLEM_TYPE, JSON_TYPE, HTML_TYPE]) === HTML_TYPE;
}

export type ErrorPage = (error: EngineError, request: FastifyRequest, reply: FastifyReply) => void;

/**
 * Answers any error with a problem document, or with a page where the reader asks for one; what is our fault is logged
 * and stays unsaid.
 */
export function answerError(
  thrown: unknown,
  request: FastifyRequest,
  reply: FastifyReply,
  asPage: ErrorPage,
): void {
  const error = knownError(thrown);
  if (error.status >= 500) request.log.error({ err: thrown }, 'request failed');
  else request.log.info({ code: error.code }, 'request refused');
  if (error.status === 503) reply.header('retry-after', RETRY_S);
  if (isEndless(request)) reply.header('connection', 'close');
  if (wantsPage(request)) {
    asPage(error, request, reply);
    return;
  }
  reply
    .code(error.status)
    .header('content-type', PROBLEM_TYPE)
    .send(JSON.stringify(problemOf(error, request.id)));
}

const BY_PARSER_CODE: Readonly<Record<string, readonly [ErrorCode, string]>> = {
  HPE_HEADER_OVERFLOW: ['headers-too-large', 'address and headers together are over 16 KiB'],
  ERR_HTTP_REQUEST_TIMEOUT: ['request-timeout', 'the request did not arrive in time'],
};

/** The whole answer as bytes, for a socket whose request could not be parsed. */
export function rawProblem(error: EngineError, requestId: string): string {
  const problem = problemOf(error, requestId);
  const body = JSON.stringify(problem);
  return [
    `HTTP/1.1 ${error.status} ${problem.title}`,
    `Content-Type: ${PROBLEM_TYPE}`,
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Cache-Control: no-store',
    'X-Content-Type-Options: nosniff',
    'Connection: close',
    '',
    body,
  ].join('\r\n');
}

/** Answers what the HTTP parser itself refused, and closes the connection. */
export function answerClientError(error: ConnectionError, socket: Socket): void {
  if (error.code === 'ECONNRESET' || socket.destroyed || !socket.writable) {
    socket.destroy();
    return;
  }
  const [code, text] = BY_PARSER_CODE[error.code] ?? ['bad-request', 'this is not a valid HTTP request'];
  socket.write(rawProblem(new EngineError(code, text), randomUUID()));
  socket.destroySoon();
}
