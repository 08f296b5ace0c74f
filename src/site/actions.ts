/** What is done on any page, or before there is one. */
import { listCohorts } from '../app/groups.ts';
import { listRoutes } from '../app/routes.ts';
import { EngineError } from '../errors.ts';
import type { App, LoadDemo } from '../http/deps.ts';
import type { UnitSystem } from '../units.ts';
import { having, UNITS_COOKIE } from './frame.ts';
import { formOf, type PageDeps, post, seeOther } from './page.ts';

const YEAR_S = 31_536_000;

/** The choice between kilometres and miles, kept in a cookie. */
export function unitsResource(app: App, { frame }: PageDeps): void {
  app.post('/units', post(), async (request, reply) => {
    const form = formOf(request);
    const { to } = frame(request);
    const units: UnitSystem = form.get('units') === 'us' ? 'us' : 'metric';
    const back = form.get('back') ?? '/';
    reply.header(
      'set-cookie',
      `${UNITS_COOKIE}=${units}; Path=${to('/')}; Max-Age=${YEAR_S}; SameSite=Lax; HttpOnly`,
    );
    // A path of this service only: `//host` and `/\host` would lead away.
    return seeOther(reply, to(/^\/(?![/\\])[\x21-\x5b\x5d-\x7e]*$/.test(back) ? back : '/'));
  });
}

/** The button of the start page that loads the invented range, into an empty store alone. */
export function demoResource(app: App, { context, frame }: PageDeps, load: LoadDemo): void {
  let underWay: Promise<string | null> | null = null;

  app.post('/demo', post(), async (request, reply) => {
    const one = { limit: 1, after: null };
    const isEmpty =
      (await listRoutes(context, one)).length === 0 && (await listCohorts(context, one)).length === 0;
    // A second press, while it loads, waits for the first.
    if (underWay === null && !isEmpty) {
      const reason = 'the store is not empty: the invented range is loaded into an empty one';
      throw new EngineError('bad-request', reason);
    }
    underWay ??= load().finally(() => {
      underWay = null;
    });
    const path = await underWay;
    return seeOther(reply, frame(request).to(having(path ?? '/', 'loaded')));
  });
}
