/** @jsxRuntime automatic @jsxImportSource preact */
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import { Reach, type ReachMark, ReachNames, ReachShapes } from '../reach.tsx';
import { Words } from '../words.tsx';
import type { ShortlistReason } from './shortlist-view.ts';

export interface RouteFactsView {
  readonly id: string;
  readonly name: string;
  readonly facts: readonly string[];
}

/** A route by itself. */
export function routeFactsPage({ id, name, facts }: RouteFactsView, frame: PageFrame): string {
  return pageHtml({
    title: name,
    frame,
    section: 'routes',
    way: [{ name: 'Routes', path: '/routes' }],
    children: (
      <>
        <ul>
          {facts.map((fact) => (
            <li>
              <Words text={fact} />
            </li>
          ))}
        </ul>
        <p class="row screen">
          <a class="button" href={frame.to(`/routes/${id}/edit`)}>
            State its class and more
          </a>
          <a class="button" href={frame.to(`/v1/routes/${id}.gpx`)}>
            GPX
          </a>
        </p>
      </>
    ),
  });
}

export interface FitFactsView {
  readonly cohort: { readonly id: string; readonly name: string };
  readonly route: { readonly id: string; readonly name: string };
  readonly date: string;
  readonly verdictText: string;
  readonly day: string | null;
  readonly marks: readonly ReachMark[];
  readonly answers: readonly ShortlistReason[];
}

/** One route for one cohort on a date: all answers. */
export function fitFactsPage(view: FitFactsView, frame: PageFrame): string {
  const { cohort, route, date, verdictText, day, marks, answers } = view;
  const query = `?date=${date}&units=${frame.units}`;
  return pageHtml({
    title: `${route.name} for ${cohort.name}`,
    frame,
    section: 'cohorts',
    way: [
      { name: 'Cohorts', path: '/' },
      { name: cohort.name, path: `/cohorts/${cohort.id}?date=${date}` },
    ],
    children: (
      <>
        <p class="lead">
          <Words text={date} />: {verdictText}.
        </p>
        {day !== null && (
          <p>
            <Words text={day} />
          </p>
        )}
        <ReachShapes names={marks.map(({ name }) => name)} />
        <ReachNames columns={marks.length} />
        <Reach marks={marks} />
        <h2>The twelve answers</h2>
        <ul>
          {answers.map(({ question, text }) => (
            <li>
              <strong>{question}:</strong> <Words text={text} />
            </li>
          ))}
        </ul>
        <p class="row screen">
          <a
            class="button main"
            href={frame.to(`/v1/cohorts/${cohort.id}/routes/${route.id}/trip-plan${query}`)}
          >
            Trip plan
          </a>
          <a class="button" href={frame.to(`/routes/${route.id}`)}>
            The route
          </a>
        </p>
      </>
    ),
  });
}
