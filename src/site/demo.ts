import { listCohorts } from '../app/groups.ts';
import { listRoutes } from '../app/routes.ts';
import { EngineError } from '../errors.ts';
import type { App, LoadDemo } from '../http/deps.ts';
import { having } from './frame.ts';
import { type PageDeps, post, seeOther } from './page.ts';

/** The button of the start page that loads the invented range, into an empty store alone. */
export function demoResource(app: App, { context, frame }: PageDeps, load: LoadDemo): void {
  let underWay: Promise<string | null> | null = null;

  app.post('/demo', post(), async (request, reply) => {
    const one = { limit: 1, after: null };
    const isEmpty =
      (await listRoutes(context, one)).length === 0 && (await listCohorts(context, one)).length === 0;
    // A second press, while it loads, waits for the first.
    if (underWay === null && !isEmpty) {
      throw new EngineError(
        'bad-request',
        'the store is not empty: the invented range is loaded into an empty one',
      );
    }
    underWay ??= load().finally(() => {
      underWay = null;
    });
    const path = await underWay;
    return seeOther(reply, frame(request).to(having(path ?? '/', 'loaded')));
  });
}
