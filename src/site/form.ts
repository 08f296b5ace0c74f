import type { FastifyReply, FastifyRequest } from 'fastify';
import { bodyBytes } from '../http/body.ts';
import { HTML_TYPE } from '../http/media.ts';
import { decodeText } from '../ingest/decode.ts';

const FORM_TYPE = 'application/x-www-form-urlencoded';

/** Of every POST of a plain form. */
export const FORM = {
  config: { produces: [HTML_TYPE], consumes: [FORM_TYPE] },
  schema: { hide: true },
};

/** The fields of a form that was sent. */
export function formOf(request: FastifyRequest): URLSearchParams {
  return new URLSearchParams(decodeText(bodyBytes(request)).text);
}

/** Leads to another page after a form was taken, so that a reload sends nothing again. */
export function seeOther(reply: FastifyReply, url: string): FastifyReply {
  return reply.code(303).header('location', url).send();
}
