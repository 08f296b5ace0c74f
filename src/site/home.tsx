import { listOutings } from '../app/days.ts';
import { listCohorts } from '../app/groups.ts';
import { namedRoutes, type RouteToState, routesToState } from '../app/routes.ts';
import type { App } from '../http/deps.ts';
import { pageOf } from '../http/paging.ts';
import type { StoredCohort } from '../storage/cohorts.ts';
import { peopleText } from '../text/people-words.ts';
import { plural } from '../text/words.ts';
import { ALL, type PageDeps, type PageFrame, page, queryOf, sendPage } from './page.ts';
import { pageHtml } from './page-shell.tsx';
import { LinkRow } from './parts.tsx';
import { Reach, type ReachMark, ReachNames, ReachShapes } from './reach.tsx';

interface HomeView {
  readonly cohorts: readonly { readonly stored: StoredCohort; readonly outings: number }[];
  readonly next: string | null;
  readonly routes: number;
  readonly toState: readonly RouteToState[];
  /** Whether the invented range that comes with the program can be loaded here. */
  readonly hasDemo: boolean;
}

interface HomeProps {
  readonly view: HomeView;
  readonly frame: PageFrame;
}

function Demo({ frame }: { readonly frame: PageFrame }) {
  return (
    <section class="box" aria-labelledby="demo">
      <h2 id="demo">Or look at it first</h2>
      <p>
        The program comes with an invented island range: 22 routes, three cohorts of an invented school, and
        the days that they have walked. It takes a few seconds to measure them, and they can be deleted one by
        one.
      </p>
      <form method="post" action={frame.to('/demo')}>
        <button type="submit">Load the invented range</button>
      </form>
    </section>
  );
}

function ToState({ view, frame }: HomeProps) {
  const [first] = view.toState;
  if (first === undefined) return null;
  return (
    <>
      ; of {view.toState.length} something is still to be stated, such as class or season.{' '}
      <a href={frame.to(`/routes/${first.id}/edit`)}>State the first</a>
    </>
  );
}

function Empty({ view, frame }: HomeProps) {
  const hasRoutes = view.routes > 0;
  return (
    <>
      <p class="lead">
        Krummholz finds the summit days that fit a group: it lays routes on real terrain, learns from the days
        that the group has walked, ranks the routes with reasons, and says how sure it is.
      </p>
      <h2>Three things are needed</h2>
      <ol>
        <li>
          <strong>Routes</strong>, as GPX or GeoJSON files.{' '}
          {hasRoutes ? (
            <>
              <a href={frame.to('/routes')}>{plural(view.routes, 'route')}</a>
              {view.toState.length === 0 ? ': done.' : <ToState view={view} frame={frame} />}
            </>
          ) : (
            <a href={frame.to('/routes')}>Add routes</a>
          )}
        </li>
        <li>
          <strong>A cohort</strong>: how many, how old, which rock they are comfortable on, who drives.{' '}
          <a href={frame.to('/cohorts/new')}>Make a cohort</a>
        </li>
        <li>
          <strong>Days that they have walked</strong>: a recording, or length, climb and time by hand. Then
          each route gets its verdict.
        </li>
      </ol>
      <Example />
      {view.hasDemo && !hasRoutes && <Demo frame={frame} />}
      {!view.hasDemo && !hasRoutes && (
        <p class="quiet">
          To look at an invented range first, start a second service with the tiles that come with the program
          (KRUMMHOLZ_DEM=data/demo/dem) and a database of its own; its start page offers the rest.
        </p>
      )}
    </>
  );
}

/** A route as the drawing shows it; for those who have none yet. */
const EXAMPLE: readonly ReachMark[] = [
  { name: 'distance', ratio: 0.8, met: 'yes' },
  { name: 'gain', ratio: 1.15, met: 'no' },
  { name: 'effort', ratio: 0.95, met: 'yes' },
  { name: 'rockClass', ratio: 0.66, met: 'yes' },
  { name: 'altitude', ratio: 0.3, met: 'yes' },
  { name: 'stormWindow', ratio: 0.9, met: 'yes' },
  { name: 'daylight', ratio: 0.5, met: 'yes' },
  { name: 'drive', ratio: null, met: 'notKnown' },
  { name: 'season', ratio: null, met: 'yes' },
];

function Example() {
  return (
    <figure class="box">
      <ReachShapes names={EXAMPLE.map(({ name }) => name)} />
      <ReachNames columns={EXAMPLE.length} />
      <Reach marks={EXAMPLE} />
      <figcaption>
        Each route gets one drawing: what it asks, against what the group has shown. The dashed line is all
        that the group can do. This one asks 15 % more climb than was shown, and the drive is not known yet.
      </figcaption>
    </figure>
  );
}

function homePage(view: HomeView, frame: PageFrame): string {
  const { cohorts, next, routes, toState } = view;
  const open = `${toState.length} with something to state`;
  return pageHtml({
    title: cohorts.length === 0 ? 'Which summit day fits your group?' : 'Cohorts',
    frame,
    section: 'cohorts',
    children:
      cohorts.length === 0 ? (
        <Empty view={view} frame={frame} />
      ) : (
        <>
          <ul class="entries">
            {cohorts.map(({ stored: { id, cohort }, outings }) => (
              <li>
                <h2>
                  <a href={frame.to(`/cohorts/${id}`)}>{cohort.name}</a>
                </h2>
                <p>{peopleText(cohort)}</p>
                <p class="quiet">
                  {outings === 0 ? 'No day recorded yet' : plural(outings, 'day')} ·{' '}
                  <a href={frame.to(`/cohorts/${id}/outings`)}>
                    days walked<span class="unseen"> by {cohort.name}</span>
                  </a>{' '}
                  ·{' '}
                  <a href={frame.to(`/cohorts/${id}/edit`)}>
                    change<span class="unseen"> {cohort.name}</span>
                  </a>
                </p>
              </li>
            ))}
          </ul>
          {next !== null && (
            <p>
              <a href={frame.to(`/?after=${next}`)}>More cohorts</a>
            </p>
          )}
          <LinkRow
            frame={frame}
            hasMain
            links={[
              ['/cohorts/new', 'Make a cohort'],
              ['/routes', routes === 0 ? 'Add routes' : plural(routes, 'route')],
              ...(toState.length > 0 ? [['/routes?show=toState', open] as const] : []),
            ]}
          />
        </>
      ),
  });
}

const COHORTS_A_PAGE = 50;

export function homePages(app: App, { context, frame, cursors }: PageDeps, hasDemo: boolean): void {
  app.get('/', page(), async (request, reply) => {
    const asked = { limit: COHORTS_A_PAGE, cursor: queryOf(request).get('after') };
    const { rows, next } = await pageOf((part) => listCohorts(context, part), asked, '/', cursors);
    const cohorts = await Promise.all(
      rows.map(async (stored) => ({
        stored,
        outings: (await listOutings(context, stored.id, ALL)).length,
      })),
    );
    const routes = (await namedRoutes(context)).length;
    const view = { cohorts, next, routes, toState: await routesToState(context), hasDemo };
    return sendPage(reply, homePage(view, frame(request)));
  });
}
