import type { FastifyRequest } from 'fastify';
import { EngineError, type ErrorCode } from '../errors.ts';
import { decodeText } from '../ingest/decode.ts';
import { parseJson } from '../ingest/json-text.ts';
import { message } from '../message.ts';
import { firstCharacter, GPX_TYPES, JSON_TYPES, mediaTypeOf } from './media.ts';

export function bodyBytes(request: FastifyRequest): Uint8Array {
  return request.body instanceof Uint8Array ? request.body : new Uint8Array();
}

/**
 * The body as JSON. Read by the project's own reader, not by the framework's: its errors name line and column,
 * and nesting and forbidden keys are bounded.
 *
 * @param depthCode the code for a body nested too deep
 * @throws EngineError `empty-body`, `encoding` or a JSON error.
 */
export function bodyJson(request: FastifyRequest, depthCode: ErrorCode): unknown {
  const bytes = bodyBytes(request);
  if (bytes.length === 0) throw new EngineError('empty-body', 'the body is empty: send a JSON object');
  return parseJson(decodeText(bytes).text.replace(/^\uFEFF/, ''), depthCode);
}

/**
 * Refuses a body whose Content-Type and content contradict each other; anything else is left to the reader.
 * @throws EngineError `json-malformed` or `unsupported-media-type`.
 */
export function checkSameKind(request: FastifyRequest): void {
  const mediaType = mediaTypeOf(request.headers['content-type']) ?? '';
  const first = firstCharacter(bodyBytes(request));
  if (JSON_TYPES.includes(mediaType) && first === '<') {
    throw new EngineError(
      'json-malformed',
      message`the body is XML, but its Content-Type is ${mediaType}: send a GPX file as application/gpx+xml`,
      { line: 1, column: 1 },
    );
  }
  const saysXml = GPX_TYPES.includes(mediaType) && mediaType !== 'application/octet-stream';
  if (saysXml && (first === '{' || first === '[')) {
    throw new EngineError(
      'unsupported-media-type',
      message`the body is JSON, but its Content-Type is ${mediaType}: send GeoJSON as application/geo+json`,
    );
  }
}
