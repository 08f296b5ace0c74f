import { createHash } from 'node:crypto';
import Type from 'typebox';
import type { GroundMap } from '../../app/ground-maps.ts';
import { mapOfAllRoutes } from '../../app/maps.ts';
import { mapMarks } from '../../drawing/map/map-marks.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import {
  linePath,
  type MapDrawings,
  mapKey,
  PNG_TYPE,
  scaleOf,
  sendShade,
  shadeFile,
  tileText,
} from '../map-views.ts';
import { PAGE, type PageDeps, sendPage } from '../page-deps.ts';
import { rowOfRoute } from '../routes/route-words.ts';
import { routesMapPage } from './view.tsx';

const PATH = '/routes/map';
/** More lines than this on one map are a tangle (design). */
const MOST_ROUTES = 200;

/** All routes on one map. */
export function routesMapPages(app: App, { context, frame }: PageDeps, drawings: MapDrawings): void {
  const keyOf = (routes: readonly StoredRoute[]): string => {
    const keys = routes.map((stored) => mapKey(stored, context));
    return createHash('sha256').update(keys.join(' ')).digest('hex').slice(0, 20);
  };

  app.get(PATH, { ...PAGE, schema: { hide: true } }, async (request, reply) => {
    const pageFrame = frame(request);
    const { routes, strays, map } = await mapOfAllRoutes(context, MOST_ROUTES);
    const viewOf = async (ground: GroundMap) => {
      const scale = scaleOf(ground);
      const lines = routes.flatMap(({ route }) => route.line);
      const key = keyOf(routes);
      return {
        title: `Map of ${routes.length} routes`,
        terrain: await drawings.terrainOf(key, {
          map: ground,
          treelineM: null,
          lines,
          units: pageFrame.units,
        }),
        frame: ground.frame,
        shadeHref: pageFrame.to(`${PATH}/shade/${key}.png`),
        lines: routes.map((stored) => ({ path: linePath(stored, scale), id: null })),
        marks: mapMarks(
          routes.map(({ route: { high, trailhead } }) => {
            const { lonDeg, latDeg } = high ?? trailhead;
            return scale.ofPlace(lonDeg, latDeg);
          }),
          false,
        ),
        treelineM: null,
        noTreelineText: 'Treeline differs from route to route: each route’s own map has it.',
        sources: ground.sources.map((tile) => tileText(tile, pageFrame.units)),
        units: pageFrame.units,
      };
    };
    const view = {
      map: map === null ? null : await viewOf(map),
      whyNone:
        routes.length === 0
          ? 'There are no routes yet.'
          : `These routes lie too far apart, or are more than ${MOST_ROUTES}: each has a map of its own.`,
      rows: routes.map((stored) => rowOfRoute(stored, pageFrame.units)),
      strays: strays.map(({ id, route: { name } }) => ({ id, name })),
    };
    return sendPage(reply, routesMapPage(view, pageFrame));
  });

  app.get(
    `${PATH}/shade/:file`,
    {
      ...PAGE,
      config: { produces: [PNG_TYPE] },
      schema: { hide: true, params: Type.Object({ file: shadeFile }) },
    },
    async (request, reply) => {
      const { routes, map } = await mapOfAllRoutes(context, MOST_ROUTES);
      if (map === null) throw new EngineError('not-found', 'there is no map of these routes');
      return sendShade(request, reply, { file: request.params.file, key: keyOf(routes), map }, drawings);
    },
  );
}
