/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { MapFigure } from '../../drawing/map/map-figure.tsx';
import type { MapView } from '../../drawing/map/map-svg.tsx';
import type { StoredRoute } from '../../storage/routes.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { figuresOf } from '../routes/route-words.ts';

export interface RoutesMapView {
  /** `null`: there is none; `whyNone` says why. */
  readonly map: MapView | null;
  readonly whyNone: string;
  readonly routes: readonly StoredRoute[];
  /** Routes that lie too far from these to be on the map. */
  readonly strays: readonly StoredRoute[];
}

function routeItem({ id, route }: StoredRoute, { to, units }: PageFrame): VNode {
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
function straysPart(strays: readonly StoredRoute[], { to }: PageFrame): VNode {
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
export function routesMapPage({ map, whyNone, routes, strays }: RoutesMapView, frame: PageFrame): string {
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
