import type { App } from '../http/deps.ts';
import type { UnitSystem } from '../units.ts';
import { UNITS_COOKIE } from './frame.ts';
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
