import { MAP_STYLE } from './map/map-style.ts';
import { PACE_STYLE } from './pace-chart.tsx';
import { ROUTE_STYLE } from './pages/route-page.tsx';
import { ROUTES_MAP_STYLE } from './pages/routes-map-page.tsx';
import { PROFILE_STYLE } from './screen-style.ts';

/** The second style sheet, of pages with maps, profiles and charts: lists load without it. */
export const DRAWING_STYLE = [PROFILE_STYLE, MAP_STYLE, ROUTE_STYLE, PACE_STYLE, ROUTES_MAP_STYLE].join('\n');
