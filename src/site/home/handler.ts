import { listOutings } from '../../app/days.ts';
import { listCohorts } from '../../app/groups.ts';
import { namedRoutes, routesToState } from '../../app/routes.ts';
import type { App } from '../../http/deps.ts';
import { peopleText } from '../../text/people-words.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from '../page-deps.ts';
import { homePage } from './view.tsx';

const COHORTS_A_PAGE = 50;
const EVERYTHING = { limit: 10_000, after: null };

/** The start. */
export function homePages(app: App, { context, frame, cursors }: PageDeps, hasDemo: boolean): void {
  app.get('/', { ...PAGE, schema: { hide: true } }, async (request, reply) => {
    const cursor = queryOf(request).get('after');
    const [createdAtMs, id] = cursor === null ? [] : cursors.open('/', cursor);
    const after = createdAtMs === undefined ? null : { createdAtMs: Number(createdAtMs), id: String(id) };
    const rows = await listCohorts(context, { limit: COHORTS_A_PAGE + 1, after });
    const shown = rows.slice(0, COHORTS_A_PAGE);
    const last = shown.at(-1);
    const outings = await Promise.all(shown.map((row) => listOutings(context, row.id, EVERYTHING)));
    const view = {
      cohorts: shown.map((row, i) => ({
        id: row.id,
        name: row.cohort.name,
        people: peopleText(row.cohort),
        outings: outings[i]?.length ?? 0,
      })),
      nextPath:
        rows.length > shown.length && last !== undefined
          ? `/?after=${cursors.seal('/', [last.createdAtMs, last.id])}`
          : null,
      routes: (await namedRoutes(context)).length,
      toState: await routesToState(context),
      demo: hasDemo,
    };
    return sendPage(reply, homePage(view, frame(request)));
  });
}
