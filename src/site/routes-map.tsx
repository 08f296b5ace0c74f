/** @jsxRuntime automatic @jsxImportSource preact */
import { createHash } from 'node:crypto';
import Type from 'typebox';
import { mapOfAllRoutes } from '../app/maps.ts';
import { MapFigure } from '../drawing/map/map-figure.tsx';
import type { MapView } from '../drawing/map/map-svg.tsx';
import { EngineError } from '../errors.ts';
import type { App } from '../http/deps.ts';
import type { StoredRoute } from '../storage/routes.ts';
import { type MapDrawings, mapKey, mapViewOf, PNG_TYPE, sendShade, shadeFile } from './map-views.ts';
import { type PageDeps, type PageFrame, page, sendPage } from './page.ts';
import { pageHtml } from './page-shell.tsx';
import { figuresOf } from './routes/route-words.ts';

const PATH = '/routes/map';
/** More lines than this on one map are a tangle (design). */
const MOST_ROUTES = 200;

function routeItem({ id, route }: StoredRoute, { to, units }: PageFrame) {
  const { length, climb, top } = figuresOf(route, units);
  return (
    <li>
      <a href={to(`/routes/${id}`)}>{route.name}</a>{' '}
      <span class="quiet">
        {length}, {climb} up, top {top}, class {route.attributes.rockClass ?? 'not stated'}
      </span>
    </li>
  );
}

/** What is not on the map, and what may be the matter with it. */
function straysPart(strays: readonly StoredRoute[], { to }: PageFrame) {
  return (
    <div class="box notice">
      <p>
        <strong>Not on this map:</strong> {strays.length === 1 ? 'this route begins' : 'these routes begin'}{' '}
        far from most of the others. Where that is not meant, the file may have its coordinates wrong.
      </p>
      <ul>
        {strays.map(({ id, route }) => (
          <li>
            <a class="reach" href={to(`/routes/${id}`)}>
              {route.name}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** All routes on one map, numbered at their highest points, with the list beside. */
function routesMapPage(
  map: MapView | null,
  { routes, strays }: Awaited<ReturnType<typeof mapOfAllRoutes>>,
  frame: PageFrame,
): string {
  const whyNone =
    routes.length === 0
      ? 'There are no routes yet.'
      : `These routes lie too far apart, or are more than ${MOST_ROUTES}: each has a map of its own.`;
  return pageHtml({
    title: 'Routes on a map',
    frame,
    hasDrawings: true,
    section: 'routes',
    way: [],
    children: (
      <>
        {strays.length > 0 && straysPart(strays, frame)}
        <div class="beside">
          {map === null ? <p class="box notice">{whyNone}</p> : <MapFigure view={map} />}
          <ol class="map-list" aria-label="Routes by their number on the map">
            {routes.map((stored) => routeItem(stored, frame))}
          </ol>
        </div>
      </>
    ),
  });
}

export function routesMapPages(app: App, { context, frame }: PageDeps, drawings: MapDrawings): void {
  const keyOf = (routes: readonly StoredRoute[]): string => {
    const keys = routes.map((stored) => mapKey(stored, context));
    return createHash('sha256').update(keys.join(' ')).digest('hex').slice(0, 20);
  };

  app.get(PATH, page(), async (request, reply) => {
    const pageFrame = frame(request);
    const found = await mapOfAllRoutes(context, MOST_ROUTES);
    const { routes, map } = found;
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
    const drawn = map === null ? null : await mapViewOf({ ...asked, map }, drawings, pageFrame);
    return sendPage(reply, routesMapPage(drawn, found, pageFrame));
  });

  const shadeParams = Type.Object({ file: shadeFile });
  app.get(`${PATH}/shade/:file`, page(shadeParams, PNG_TYPE), async (request, reply) => {
    const { routes, map } = await mapOfAllRoutes(context, MOST_ROUTES);
    if (map === null) throw new EngineError('not-found', 'there is no map of these routes');
    return sendShade(request, reply, { file: request.params.file, key: keyOf(routes), map }, drawings);
  });
}

export const ROUTES_MAP_STYLE = `
.beside{display:grid;gap:0 2rem;align-items:start}
@media screen and (min-width:64rem){.beside{grid-template-columns:minmax(0,3fr) minmax(17rem,2fr)}}
.map-list{padding-left:2.2rem;margin:.4rem 0}
.map-list li{padding:.15rem 0}
.map-list li::marker{font-weight:700}
.map-list a{display:inline-block;padding:.5rem 0;font-weight:600}
.map-list .quiet{display:block}
@media print{.map-list{columns:2}.map-list a{padding:0}}
`;
