/** The pages for people: each handler reads, calls the library and gives what it found to a renderer of `web/`. */
import type { App, LoadDemo } from '../deps.ts';
import type { Assets } from './assets.ts';
import { cohortPages } from './cohort.ts';
import { cohortForms } from './cohorts.ts';
import { demoResource } from './demo.ts';
import { homePages } from './home.ts';
import { mapDrawings } from './map-views.ts';
import { outingPages } from './outings.ts';
import type { PageDeps } from './page-deps.ts';
import { planPages } from './plan.ts';
import { routePages } from './route.ts';
import { routesPages } from './routes.ts';
import { routesMapPages } from './routes-map.ts';
import { seasonPages } from './season.ts';
import { trainingPages } from './training.ts';
import { unitsResource } from './units.ts';

export function pageResources(app: App, deps: PageDeps, loadDemo: LoadDemo | null, assets: Assets): void {
  unitsResource(app, deps);
  homePages(app, deps, loadDemo !== null);
  if (loadDemo !== null) demoResource(app, deps, loadDemo);
  cohortPages(app, deps);
  cohortForms(app, deps);
  outingPages(app, deps);
  routesPages(app, deps);
  const drawings = mapDrawings();
  routePages(app, deps, drawings);
  routesMapPages(app, deps, drawings);
  trainingPages(app, deps);
  seasonPages(app, deps);
  planPages(app, deps, assets);
}
