import { MAP_STYLE } from '../drawing/map/map-style.ts';
import { PACE_STYLE } from '../drawing/pace-chart.tsx';
import { PROFILE_STYLE } from '../markup/screen-style.ts';
import { ROUTE_STYLE } from './route/view.tsx';
import { ROUTES_MAP_STYLE } from './routes-map/view.tsx';

/** The second style sheet, of pages with maps, profiles and charts: lists load without it. */
export const DRAWING_STYLE = [PROFILE_STYLE, MAP_STYLE, ROUTE_STYLE, PACE_STYLE, ROUTES_MAP_STYLE].join('\n');
