import { shownBy } from '../app/groups.ts';
import { closed } from '../schema.ts';
import type { App, ResourceDeps } from './deps.ts';
import { answers, cohortParams, dateQuery } from './schemas.ts';

/** What a cohort has shown, for its leaders: the only answer that says whose label limits what. */
export function shownResource(app: App, { context }: ResourceDeps): void {
  app.get(
    '/v1/cohorts/:id/shown',
    {
      schema: {
        operationId: 'getShown',
        summary: 'For leaders: what a cohort has shown, who limits it, and its pace',
        tags: ['cohorts'],
        params: cohortParams,
        querystring: closed(dateQuery),
        response: answers({ 200: ['what has been shown; not for other readers', 'Shown'] }),
      },
    },
    (request) => shownBy(context, request.params.id, request.query.date),
  );
}
