/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import type { PageFrame } from '../page-frame.ts';

/** What became of one file that was sent. */
export interface FileResult {
  readonly fileName: string;
  /** Its routes, with what is still to be stated of each; empty where it was refused. */
  readonly routes: readonly {
    readonly id: string;
    readonly name: string;
    readonly lacking: readonly string[];
  }[];
  readonly isNew: boolean;
  /** Why it was refused; `null`: it was not. */
  readonly fault: string | null;
  /** The route file that is not stored for the fault of this one, which stands beside it; `null`: none. */
  readonly waits: string | null;
  /** What a file that came again states otherwise than before. */
  readonly changes: readonly string[];
  /** Stored routes of other names on the same line. */
  readonly sameLine: readonly { readonly id: string; readonly name: string }[];
  /** What was repaired, left out or wants looking at. */
  readonly notes: readonly string[];
}

/** What is to be done about a file, the most pressing first. Script `upload` orders by these names too. */
const KINDS = ['refused', 'todo', 'done'] as const;
type Kind = (typeof KINDS)[number];

function kindOf({ fault, routes, sameLine }: FileResult): Kind {
  if (fault !== null) return 'refused';
  return sameLine.length > 0 || routes.some(({ lacking }) => lacking.length > 0) ? 'todo' : 'done';
}

/** How many of each, and what to do; script `upload` says the same of files that it sends one by one. */
function summaryOf(results: readonly FileResult[]): string {
  const count = (kind: Kind) => results.filter((result) => kindOf(result) === kind).length;
  const [refused, todo, done] = [count('refused'), count('todo'), count('done')];
  return [
    refused === 0 ? null : `${refused} not stored: mend and send ${refused === 1 ? 'it' : 'them'} again.`,
    todo === 0 ? null : `${todo} stored with something to state or check.`,
    done === 0 ? null : `${done} stored with nothing left to do.`,
  ]
    .filter((text) => text !== null)
    .join(' ');
}

function Stored({ result, frame }: { readonly result: FileResult; readonly frame: PageFrame }): VNode {
  const { routes, isNew, changes, sameLine, notes } = result;
  const how = isNew
    ? 'stored: '
    : changes.length > 0
      ? 'was here already and is changed: '
      : 'was here already: ';
  return (
    <>
      {how}
      {routes.map(({ id, name, lacking }, i) => (
        <>
          {i > 0 && ', '}
          <a href={frame.to(`/routes/${id}`)}>{name}</a> (
          <a href={frame.to(`/routes/${id}/edit`)}>
            {lacking.length === 0 ? 'change what is stated' : 'state its class and more'}
            <span class="unseen"> of {name}</span>
          </a>
          {lacking.length > 0 && `; missing or to check: ${lacking.join(', ')}`})
        </>
      ))}
      {changes.length > 0 && (
        <span class="hint">
          Changed by this file: {changes.join('; ')}. What it does not state has stayed as it was.
        </span>
      )}
      {sameLine.map(({ id, name }) => (
        <span class="hint">
          It lies on the same line as <a href={frame.to(`/routes/${id}`)}>{name}</a>, which is stored too:
          delete one of them unless both are meant.
        </span>
      ))}
      {notes.length > 0 && <span class="hint"> {notes.join('; ')}</span>}
    </>
  );
}

function Result({ result, frame }: { readonly result: FileResult; readonly frame: PageFrame }): VNode {
  const { fileName, fault, waits } = result;
  return (
    <li class={kindOf(result)}>
      <strong>{fileName}</strong>:{' '}
      {fault === null ? (
        <Stored result={result} frame={frame} />
      ) : (
        <>
          <em>not stored</em>: {fault}
          {waits !== null && ` For it ${waits} is not stored either: mend ${fileName} and send both again.`}
        </>
      )}
    </li>
  );
}

/** What became of the files: what needs doing first, counted. */
export function UploadResults({
  results,
  frame,
}: {
  readonly results: readonly FileResult[];
  readonly frame: PageFrame;
}): VNode {
  const inOrder = KINDS.flatMap((kind) => results.filter((result) => kindOf(result) === kind));
  return (
    <>
      <p id="summary" class="summary" hidden={results.length === 0}>
        {summaryOf(results)}
      </p>
      <ul id="results" class="results" aria-label="What became of the files">
        {inOrder.map((result) => (
          <Result result={result} frame={frame} />
        ))}
      </ul>
    </>
  );
}
