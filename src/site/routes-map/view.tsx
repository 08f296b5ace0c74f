/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { MapFigure, type MapView } from '../../drawing/map/map-figure.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import type { RouteRow } from '../routes/view.tsx';

export interface RoutesMapView {
  /** `null`: there is none; `whyNone` says why. */
  readonly map: MapView | null;
  readonly whyNone: string;
  /** In the order of the numbers on the map. */
  readonly rows: readonly RouteRow[];
  /** Routes that lie too far from these to be on the map. */
  readonly strays: readonly { readonly id: string; readonly name: string }[];
}

function List({ rows, frame }: { readonly rows: readonly RouteRow[]; readonly frame: PageFrame }): VNode {
  return (
    <ol class="map-list" aria-label="Routes by their number on the map">
      {rows.map(({ id, name, length, climb, top, rockClass }) => (
        <li>
          <a href={frame.to(`/routes/${id}`)}>{name}</a>{' '}
          <span class="quiet">
            {length}, {climb} up, top {top}, class {rockClass ?? 'not stated'}
          </span>
        </li>
      ))}
    </ol>
  );
}

/** What is not on the map, and what may be the matter with it. */
function Strays({
  strays,
  frame,
}: {
  readonly strays: RoutesMapView['strays'];
  readonly frame: PageFrame;
}): VNode {
  return (
    <div class="box notice">
      <p>
        <strong>Not on this map:</strong> {strays.length === 1 ? 'this route begins' : 'these routes begin'}{' '}
        far from most of the others. Where that is not meant, the file may have its coordinates wrong.
      </p>
      <ul>
        {strays.map(({ id, name }) => (
          <li>
            <a class="reach" href={frame.to(`/routes/${id}`)}>
              {name}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** All routes on one map, numbered at their highest points, with the list beside. */
export function routesMapPage({ map, whyNone, rows, strays }: RoutesMapView, frame: PageFrame): string {
  return pageHtml({
    title: 'Routes on a map',
    frame,
    hasDrawings: true,
    section: 'routes',
    way: [{ name: 'Routes', path: '/routes' }],
    children: (
      <>
        {strays.length > 0 && <Strays strays={strays} frame={frame} />}
        <div class="beside">
          {map === null ? <p class="box notice">{whyNone}</p> : <MapFigure view={map} />}
          <List rows={rows} frame={frame} />
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
