import type { FastifyReply, FastifyRequest } from 'fastify';
import type { EngineError } from '../../errors.ts';
import { problemOf } from '../../http/problem.ts';
import { sendPage } from '../page-deps.ts';
import type { FrameOf } from '../page-frame.ts';
import { errorPage } from './view.tsx';

/** Answers an error with a page, for those who asked for one. */
export function errorPages(frame: FrameOf) {
  return (error: EngineError, request: FastifyRequest, reply: FastifyReply): void => {
    const pageFrame = frame(request);
    const { status, code, detail, errors } = problemOf(error, request.id, pageFrame.units);
    const view = {
      status,
      code,
      detail,
      file: errors[0]?.file ?? null,
      wasSent: request.method !== 'GET',
      requestId: request.id,
    };
    sendPage(reply, errorPage(view, pageFrame), status);
  };
}
