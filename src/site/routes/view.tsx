/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { Words } from '../../markup/words.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import { type FileResult, UploadResults } from './upload-results.tsx';

export interface RouteRow {
  readonly id: string;
  readonly name: string;
  readonly trailhead: string | null;
  readonly length: string;
  readonly climb: string;
  readonly top: string;
  /** `null`: not stated. */
  readonly rockClass: string | null;
  /** What is wanting or doubtful, in words. */
  readonly lacking: readonly string[];
}

export interface RoutesView {
  readonly rows: readonly RouteRow[];
  readonly total: number;
  readonly nextPath: string | null;
  /** How many have something to be stated, and the first of them; `null`: none. */
  readonly toState: { readonly count: number; readonly firstId: string; readonly firstName: string } | null;
  /** Whether only those are shown. */
  readonly isOnlyToState: boolean;
  readonly results: readonly FileResult[];
}

function Upload({ view, frame }: { readonly view: RoutesView; readonly frame: PageFrame }): VNode {
  const { results, total } = view;
  return (
    <section class="box screen" aria-labelledby="add">
      <h2 id="add">Add routes</h2>
      <form id="upload" method="post" action={frame.to('/routes')} encType="multipart/form-data">
        <label for="files">GPX or GeoJSON files</label>
        <p class="hint" id="files-hint">
          Several at once; at most 10 MiB each<noscript> and together</noscript>. <code>NAME.route.json</code>{' '}
          beside <code>NAME.gpx</code> says what a GPX cannot. A file that cannot be read is left out and the
          others are stored.
        </p>
        <div class="drop" id="drop">
          <input
            type="file"
            id="files"
            name="files"
            multiple
            required
            accept=".gpx,.geojson,.json"
            aria-describedby="files-hint"
          />
          <p class="hint" id="drop-hint" hidden>
            or drop them here
          </p>
        </div>
        <div class="row">
          <button type="submit" class="main">
            Send
          </button>
          <progress id="progress" max={1} value={0} aria-label="Sent and measured" hidden />
          <span id="progress-text" class="quiet" role="status" />
        </div>
      </form>
      <UploadResults results={results} frame={frame} />
      {total === 0 && (
        <p class="quiet" id="no-files">
          No files at hand? <a href={frame.to('/')}>The start page</a> offers an invented range to look at.
        </p>
      )}
    </section>
  );
}

/** How many routes are not complete, and the way to the first of them. */
function ToState({ view, frame }: { readonly view: RoutesView; readonly frame: PageFrame }): VNode {
  const { toState, isOnlyToState, total, rows } = view;
  if (toState === null) return <p>Class, treeline, season and party limit of every route are known.</p>;
  const { count, firstId, firstName } = toState;
  return (
    <div class="screen">
      <p>
        {count} of {total} {count === 1 ? 'has' : 'have'} something to state: what is missing is asked for at
        every ranking, never taken to be fine.
        {isOnlyToState && rows.length < count && ` The first ${rows.length} of them:`}
      </p>
      <p class="row">
        <a class="button" href={frame.to(`/routes/${firstId}/edit`)}>
          State the first: {firstName}
        </a>
        {!isOnlyToState && (
          <a class="button" href={frame.to('/routes?show=toState')}>
            Show only {count === 1 ? 'this one' : `these ${count}`}
          </a>
        )}
      </p>
    </div>
  );
}

function RouteTable({
  rows,
  frame,
}: {
  readonly rows: readonly RouteRow[];
  readonly frame: PageFrame;
}): VNode {
  return (
    <table class="cards routes">
      <caption class="unseen">Routes in the order in which they came</caption>
      <thead>
        <tr>
          <th scope="col">Route</th>
          <th scope="col" class="num">
            Length
          </th>
          <th scope="col" class="num">
            Climb
          </th>
          <th scope="col" class="num">
            Top
          </th>
          <th scope="col">Class</th>
          <th scope="col">To state or check</th>
          <td class="screen" />
        </tr>
      </thead>
      <tbody>
        {rows.map(({ id, name, trailhead, length, climb, top, rockClass, lacking }) => (
          <tr>
            <th scope="row">
              <a href={frame.to(`/routes/${id}`)}>{name}</a>
              {trailhead !== null && <span class="from">from {trailhead}</span>}
            </th>
            <td class="num">
              <span class="name">length </span>
              <Words text={length} />
            </td>
            <td class="num">
              <span class="name">climb </span>
              <Words text={climb} />
            </td>
            <td class="num">
              <span class="name">top </span>
              <Words text={top} />
            </td>
            <td>
              <span class="name">class </span>
              {rockClass ?? <em>not stated</em>}
            </td>
            <td>
              {lacking.length > 0 && <span class="name">to state or check: </span>}
              {lacking.join(', ')}
            </td>
            <td class="screen">
              <a href={frame.to(`/routes/${id}/edit`)}>
                change<span class="unseen"> {name}</span>
              </a>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** All routes, and the way to add some. */
export function routesPage(view: RoutesView, frame: PageFrame): string {
  const { rows, total, nextPath, isOnlyToState } = view;
  const refused = view.results.filter(({ fault }) => fault !== null).length;
  return pageHtml({
    title: 'Routes',
    notDone: refused === 0 ? null : `${refused} of ${view.results.length} not stored`,
    frame,
    section: 'routes',
    scripts: ['upload'],
    children: (
      <>
        <Upload view={view} frame={frame} />
        <div id="list">
          {total === 0 ? (
            <p class="lead">
              There are no routes yet. Send some files: each is measured on the terrain as it comes.
            </p>
          ) : (
            <>
              <h2>{isOnlyToState ? 'With something to state' : `${total} stored`}</h2>
              <ToState view={view} frame={frame} />
              <p class="row screen">
                {isOnlyToState && (
                  <a class="button" href={frame.to('/routes')}>
                    All routes
                  </a>
                )}
                <a class="button" href={frame.to('/routes/map')}>
                  On a map
                </a>
              </p>
              <RouteTable rows={rows} frame={frame} />
              {nextPath !== null && (
                <p>
                  <a class="button" href={frame.to(nextPath)}>
                    More routes
                  </a>
                </p>
              )}
            </>
          )}
        </div>
      </>
    ),
  });
}

export const ROUTES_STYLE = `
.drop{border:2px dashed var(--hair);padding:.8rem;margin:.4rem 0}
.drop.over{border-style:solid;border-color:currentColor}
.drop p{margin:.3rem 0 0}
progress{width:14rem;max-width:100%;height:1rem;accent-color:var(--ink)}
.results{list-style:none;padding:0;margin:0}
.results li{padding:.5rem 0 .5rem 1rem;border-left:4px solid var(--hair);margin:.4rem 0;overflow-wrap:anywhere}
.results .refused{border-left-style:dotted;border-left-color:currentColor}
.results .todo{border-left-color:currentColor}
.summary{font-weight:600}
.results .hint{display:block}
.from{display:block;font-weight:400;font-size:.875rem;color:var(--faint)}
.routes tbody th a,.routes td a{display:inline-block;padding:.55rem 0;margin:-.55rem 0}
.entries{list-style:none;padding:0;max-width:52rem}
.entries li{border-top:1px solid var(--hair);padding:.8rem 0}
.entries h2{margin:0}
.entries h2 a,.entries p a{display:inline-block;padding:.6rem 0;margin:-.6rem 0}
`;
