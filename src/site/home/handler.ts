import { listOutings } from '../../app/days.ts';
import { listCohorts } from '../../app/groups.ts';
import { namedRoutes, routesToState } from '../../app/routes.ts';
import type { App } from '../../http/deps.ts';
import { pageOf } from '../../http/paging.ts';
import { ALL, type PageDeps, page, queryOf, sendPage } from '../page.ts';
import { homePage } from './view.tsx';

const COHORTS_A_PAGE = 50;

export function homePages(app: App, { context, frame, cursors }: PageDeps, hasDemo: boolean): void {
  app.get('/', page(), async (request, reply) => {
    const asked = { limit: COHORTS_A_PAGE, cursor: queryOf(request).get('after') };
    const { rows, next } = await pageOf((of) => listCohorts(context, of), asked, '/', cursors);
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
