/** @jsxRuntime automatic @jsxImportSource preact */
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { EngineError } from '../errors.ts';
import { problemOf } from '../http/problem.ts';
import { type FrameOf, sendPage } from './page.ts';
import { pageHtml } from './page-shell.tsx';
import { LinkRow } from './parts.tsx';

/** Of the kinds of faults that people meet; anything else is a request that was refused. */
const TITLES: Readonly<Record<number, string>> = {
  403: 'This was not sent from a page of this service',
  404: 'There is nothing here',
  405: 'This page does not take that',
  412: 'Somebody has changed this in the meantime',
  413: 'That is too large',
  415: 'This kind of file is not read here',
  422: 'This could not be used',
  500: 'Something went wrong here',
  503: 'Not now',
  507: 'The disk is full',
};

const sentence = (text: string): string => {
  const first = `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
  return /[.!?]$/.test(first) ? first : `${first}.`;
};

/** Answers an error with a page, for those who asked for one: what happened and where to go on. */
export function errorPages(frameOf: FrameOf) {
  return (error: EngineError, request: FastifyRequest, reply: FastifyReply): void => {
    const frame = frameOf(request);
    const { status, code, detail, errors } = problemOf(error, request.id, frame.units);
    const file = errors[0]?.file;
    const html = pageHtml({
      title: TITLES[status] ?? (status >= 500 ? 'Something went wrong here' : 'This was refused'),
      frame,
      section: null,
      children: (
        <>
          <p class="lead">
            {file !== undefined && <strong>{file}: </strong>}
            {sentence(detail)}
          </p>
          {request.method !== 'GET' && (
            <p>Nothing of what was sent has been stored. Go back, mend it and send it again.</p>
          )}
          <LinkRow
            frame={frame}
            links={[
              ['/', 'To the cohorts'],
              ['/routes', 'To the routes'],
            ]}
          />
          <p class="quiet">
            {status} · {code} · {request.id}
          </p>
        </>
      ),
    });
    sendPage(reply, html, status);
  };
}
