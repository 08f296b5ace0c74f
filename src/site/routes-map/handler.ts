import { createHash } from 'node:crypto';
import Type from 'typebox';
import { mapOfAllRoutes } from '../../app/maps.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import { type MapDrawings, mapKey, mapViewOf, PNG_TYPE, sendShade, shadeFile } from '../map-views.ts';
import { type PageDeps, page, sendPage } from '../page.ts';
import { routesMapPage } from './view.tsx';

const PATH = '/routes/map';
/** More lines than this on one map are a tangle (design). */
const MOST_ROUTES = 200;

export function routesMapPages(app: App, { context, frame }: PageDeps, drawings: MapDrawings): void {
  const keyOf = (routes: readonly StoredRoute[]): string => {
    const keys = routes.map((stored) => mapKey(stored, context));
    return createHash('sha256').update(keys.join(' ')).digest('hex').slice(0, 20);
  };

  app.get(PATH, page(), async (request, reply) => {
    const pageFrame = frame(request);
    const { routes, strays, map } = await mapOfAllRoutes(context, MOST_ROUTES);
    const asked = {
      title: `Map of ${routes.length} routes`,
      key: keyOf(routes),
      path: PATH,
      routes,
      places: routes.map(({ route: { high, trailhead } }) => high ?? trailhead),
      hasStart: false,
      treelineM: null,
      noTreelineText: 'Treeline differs from route to route: each route’s own map has it.',
    };
    const whyNone =
      routes.length === 0
        ? 'There are no routes yet.'
        : `These routes lie too far apart, or are more than ${MOST_ROUTES}: each has a map of its own.`;
    const drawn = map === null ? null : await mapViewOf({ ...asked, map }, drawings, pageFrame);
    return sendPage(reply, routesMapPage({ map: drawn, whyNone, routes, strays }, pageFrame));
  });

  const shadeParams = Type.Object({ file: shadeFile });
  app.get(`${PATH}/shade/:file`, page(shadeParams, PNG_TYPE), async (request, reply) => {
    const { routes, map } = await mapOfAllRoutes(context, MOST_ROUTES);
    if (map === null) throw new EngineError('not-found', 'there is no map of these routes');
    return sendShade(request, reply, { file: request.params.file, key: keyOf(routes), map }, drawings);
  });
}
