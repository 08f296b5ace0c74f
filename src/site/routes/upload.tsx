import type { Context } from '../../app/context.ts';
import { type AddedRoutes, addRoutes } from '../../app/routes.ts';
import { EngineError } from '../../errors.ts';
import { type Pair, type Pairs, sentRoutes } from '../../http/upload.ts';
import { decodeText } from '../../ingest/decode.ts';
import { pointerLine } from '../../ingest/json-text.ts';
import { errorText } from '../../text/errors.ts';
import { noteClause } from '../../text/notes.ts';
import { statedChanges } from '../../text/stated-words.ts';
import type { UnitSystem } from '../../units.ts';
import { faultText } from '../fault.ts';
import type { PageFrame } from '../page.ts';
import { lackingOf } from './route-words.ts';

/** What became of one file that was sent: its routes, or why it was refused. */
export type FileResult = { readonly fileName: string } & (
  | { readonly added: AddedRoutes; readonly fault: null }
  | {
      readonly fault: string;
      /** The route file that is not stored for the fault of this one, which stands beside it. */
      readonly waits?: string;
    }
);

/** What is wrong, at the file that it is wrong in, which may be the one beside the route. */
function refusedFile(error: unknown, { route, attributesFile }: Pair, units: UnitSystem): FileResult {
  const text = faultText(error, units);
  const { file, line, pointer } = error instanceof EngineError ? error.place : {};
  if (attributesFile === null || file !== attributesFile.fileName)
    return { fileName: route.fileName, fault: text };
  const at =
    line === undefined && pointer !== undefined
      ? pointerLine(decodeText(attributesFile.bytes).text, pointer)
      : null;
  const fault = at === null ? text : `${text} (line ${at})`;
  return { fileName: attributesFile.fileName, fault, waits: route.fileName };
}

/** Takes the files of a form, each all or nothing. */
export async function takenFiles(
  { pairs, faults }: Pairs,
  context: Context,
  units: UnitSystem,
): Promise<readonly FileResult[]> {
  const results: FileResult[] = [];
  for (const pair of pairs) {
    const { fileName, bytes } = pair.route;
    // A browser sends one empty file where none was chosen.
    if (fileName === '' && bytes.length === 0) continue;
    try {
      results.push({ fileName, added: await addRoutes(context, [sentRoutes(pair)]), fault: null });
    } catch (error) {
      results.push(refusedFile(error, pair, units));
    }
  }
  const alone = faults.map((fault) => ({
    fileName: fault.place.file ?? 'a file',
    fault: errorText(fault, units),
  }));
  return [...results, ...alone];
}

/** What is to be done about a file, the most pressing first. Script `upload` orders by these names too. */
const KINDS = ['refused', 'todo', 'done'] as const;
type Kind = (typeof KINDS)[number];

function kindOf(result: FileResult): Kind {
  if (result.fault !== null) return 'refused';
  const { routes, sameLine } = result.added;
  return sameLine.length > 0 || routes.some(({ route }) => lackingOf(route).length > 0) ? 'todo' : 'done';
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

function Stored({ added, frame }: { readonly added: AddedRoutes; readonly frame: PageFrame }) {
  const { routes, created, changed, sameLine } = added;
  const changes = changed.flatMap(({ before, now }) => statedChanges(before, now, frame.units));
  const notes = routes.flatMap(({ route }) => route.notes.map((note) => noteClause(note, frame.units)));
  return (
    <>
      {created > 0 ? 'stored: ' : `was here already${changes.length > 0 ? ' and is changed' : ''}: `}
      {routes.map(({ id, route }, i) => {
        const lacking = lackingOf(route);
        return (
          <>
            {i > 0 && ', '}
            <a href={frame.to(`/routes/${id}`)}>{route.name}</a> (
            <a href={frame.to(`/routes/${id}/edit`)}>
              {lacking.length === 0 ? 'change what is stated' : 'state its class and more'}
              <span class="unseen"> of {route.name}</span>
            </a>
            {lacking.length > 0 && `; missing or to check: ${lacking.join(', ')}`})
          </>
        );
      })}
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
      {notes.length > 0 && <span class="hint"> {[...new Set(notes)].join('; ')}</span>}
    </>
  );
}

/** What became of the files: what needs doing first, counted. */
export function UploadResults(props: { readonly results: readonly FileResult[]; readonly frame: PageFrame }) {
  const { results, frame } = props;
  const inOrder = KINDS.flatMap((kind) => results.filter((result) => kindOf(result) === kind));
  return (
    <>
      <p id="summary" class="summary" hidden={results.length === 0}>
        {summaryOf(results)}
      </p>
      <ul id="results" class="results" aria-label="What became of the files">
        {inOrder.map((result) => (
          <li class={kindOf(result)}>
            <strong>{result.fileName}</strong>:{' '}
            {result.fault === null ? (
              <Stored added={result.added} frame={frame} />
            ) : (
              <>
                <em>not stored</em>: {result.fault}
                {result.waits !== undefined &&
                  ` For it ${result.waits} is not stored either: mend ${result.fileName} and send both again.`}
              </>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}
