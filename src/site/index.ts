/** The pages for people: each handler reads, calls the context and gives what it found to a renderer beside it. */
import type { App, LoadDemo } from '../http/deps.ts';
import { demoResource, unitsResource } from './actions.ts';
import type { Assets } from './assets.ts';
import { cohortPages } from './cohort/handler.ts';
import { cohortForms } from './cohort-form/handler.ts';
import { homePages } from './home.tsx';
import { mapDrawings } from './map-views.ts';
import { outingPages } from './outings/handler.ts';
import type { PageDeps } from './page.ts';
import { planPages } from './plan/handler.ts';
import { routePages } from './route/handler.ts';
import { routesPages } from './routes/handler.ts';
import { routesMapPages } from './routes-map.tsx';
import { seasonPages } from './season/handler.ts';
import { trainingPages } from './training/handler.ts';

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
