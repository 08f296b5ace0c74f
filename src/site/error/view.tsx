/** @jsxRuntime automatic @jsxImportSource preact */
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

/** What went wrong, for a person. */
export interface ErrorView {
  readonly status: number;
  readonly code: string;
  /** What, where and what to do, in one line; without a capital or a full stop. */
  readonly detail: string;
  readonly file: string | null;
  /** Whether something was sent, of which nothing was stored. */
  readonly wasSent: boolean;
  /** Under which it stands in the log. */
  readonly requestId: string;
}

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

/** The page of an error: says what happened and where to go on; nothing was kept of what was sent. */
export function errorPage(view: ErrorView, frame: PageFrame): string {
  const { status, code, detail, file, wasSent, requestId } = view;
  return pageHtml({
    title: TITLES[status] ?? (status >= 500 ? 'Something went wrong here' : 'This was refused'),
    frame,
    section: null,
    children: (
      <>
        <p class="lead">
          {file !== null && <strong>{file}: </strong>}
          {sentence(detail)}
        </p>
        {wasSent && <p>Nothing of what was sent has been stored. Go back, mend it and send it again.</p>}
        <p class="row">
          <a class="button" href={frame.to('/')}>
            To the cohorts
          </a>
          <a class="button" href={frame.to('/routes')}>
            To the routes
          </a>
        </p>
        <p class="quiet">
          {status} · {code} · {requestId}
        </p>
      </>
    ),
  });
}
