import type { RouteToState } from '../../app/routes.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { CardTable, LinkRow, small } from '../parts.tsx';
import { figuresOf, lackingOf } from './route-words.ts';
import { type FileResult, UploadResults } from './upload.tsx';

export interface RoutesView {
  readonly rows: readonly StoredRoute[];
  readonly next: string | null;
  readonly total: number;
  readonly toState: readonly RouteToState[];
  readonly isOnlyToState: boolean;
  readonly results: readonly FileResult[];
}

function Upload({ view, frame }: { readonly view: RoutesView; readonly frame: PageFrame }) {
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

function ToState({ view, frame }: { readonly view: RoutesView; readonly frame: PageFrame }) {
  const { toState, isOnlyToState, total, rows } = view;
  const [first] = toState;
  if (first === undefined) return <p>Class, treeline, season and party limit of every route are known.</p>;
  const count = toState.length;
  const these = count === 1 ? 'this one' : `these ${count}`;
  return (
    <div class="screen">
      <p>
        {count} of {total} {count === 1 ? 'has' : 'have'} something to state: what is missing is asked for at
        every ranking, never taken to be fine.
        {isOnlyToState && rows.length < count && ` The first ${rows.length} of them:`}
      </p>
      <LinkRow
        frame={frame}
        links={[
          [`/routes/${first.id}/edit`, `State the first: ${first.name}`],
          ...(isOnlyToState ? [] : [['/routes?show=toState', `Show only ${these}`] as const]),
        ]}
      />
    </div>
  );
}

const nameCell = ({ id, route }: StoredRoute, frame: PageFrame) => {
  const from = route.attributes.trailhead?.name;
  return (
    <>
      <a href={frame.to(`/routes/${id}`)}>{route.name}</a>
      {from != null && <span class="from">from {from}</span>}
    </>
  );
};

function RouteTable({ rows, frame }: { readonly rows: readonly StoredRoute[]; readonly frame: PageFrame }) {
  const figure = (head: string, key: 'length' | 'climb' | 'top') =>
    small<StoredRoute>(head, ({ route }) => figuresOf(route, frame.units)[key], true);
  return (
    <CardTable
      kind="routes"
      caption="Routes in the order in which they came"
      hasCaptionUnseen
      rows={rows}
      columns={[
        { head: 'Route', cell: (stored) => nameCell(stored, frame) },
        figure('Length', 'length'),
        figure('Climb', 'climb'),
        figure('Top', 'top'),
        small<StoredRoute>('Class', ({ route }) => route.attributes.rockClass ?? <em>not stated</em>),
        {
          head: 'To state or check',
          name: ({ route }) => (lackingOf(route).length > 0 ? 'to state or check:' : ''),
          cell: ({ route }) => lackingOf(route).join(', '),
        },
        {
          head: '',
          class: 'screen',
          cell: ({ id, route }) => (
            <a href={frame.to(`/routes/${id}/edit`)}>
              change<span class="unseen"> {route.name}</span>
            </a>
          ),
        },
      ]}
    />
  );
}

export function routesPage(view: RoutesView, frame: PageFrame): string {
  const { rows, total, next, isOnlyToState } = view;
  const all = isOnlyToState ? [['/routes', 'All routes'] as const] : [];
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
              <LinkRow frame={frame} links={[...all, ['/routes/map', 'On a map']]} />
              <RouteTable rows={rows} frame={frame} />
              {next !== null && (
                <p>
                  <a class="button" href={frame.to(`/routes?after=${next}`)}>
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
