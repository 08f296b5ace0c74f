import Type from 'typebox';
import { exportCohort, getCohort, listCohorts } from '../../app/groups.ts';
import { mapOfRoute } from '../../app/maps.ts';
import { minutesAlong, tripPlan } from '../../app/plans.ts';
import { checkDate } from '../../app/question.ts';
import { fitOfRoute } from '../../app/shortlist.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { fitParams, routeParams } from '../../http/schemas.ts';
import { alongRoute } from '../../route/along.ts';
import { driveOf } from '../../text/shortlist-words.ts';
import { restingOn } from '../frame.ts';
import { type MapDrawings, mapKey, PNG_TYPE, sendShade, shadeFile } from '../map-views.ts';
import { type PageDeps, page, queryOf, seeOther, sendPage } from '../page.ts';
import { routeViewOf } from './figures.ts';
import { routePage } from './view.tsx';

/** Cohorts offered on the page of a route (design). */
const COHORTS = { limit: 20, after: null };

const shadeParams = Type.Object({ ...routeParams.properties, file: shadeFile });

export function routePages(app: App, { context, frame }: PageDeps, drawings: MapDrawings): void {
  app.get('/routes/:id', page(routeParams), async (request, reply) => {
    const { id } = request.params;
    const pageFrame = frame(request);
    const query = queryOf(request);
    const cohortId = query.get('cohort') || null;
    if (cohortId !== null) {
      const { id: known, lastTripDate } = await getCohort(context, cohortId);
      const date = checkDate(query.get('date') ?? lastTripDate);
      return seeOther(reply, pageFrame.to(`/cohorts/${known}/routes/${id}?date=${date}`));
    }
    const view = await routeViewOf(await mapOfRoute(context, id), null, drawings, context, pageFrame);
    const cohorts = await listCohorts(context, COHORTS);
    return sendPage(reply, routePage({ ...view, fitPart: null, cohorts }, pageFrame));
  });

  app.get('/routes/:id/shade/:file', page(shadeParams, PNG_TYPE), async (request, reply) => {
    const { id, file } = request.params;
    const { route, map } = await mapOfRoute(context, id);
    if (map === null) throw new EngineError('not-found', 'there is no map of this route');
    return sendShade(request, reply, { file, key: mapKey(route, context), map }, drawings);
  });

  app.get('/cohorts/:id/routes/:routeId', page(fitParams), async (request, reply) => {
    const { id, routeId } = request.params;
    const pageFrame = frame(request);
    const cohort = await getCohort(context, id);
    const date = checkDate(queryOf(request).get('date') ?? cohort.lastTripDate);
    const asked = { cohortId: id, routeId, date };
    const ground = await mapOfRoute(context, routeId);
    const { fit } = await fitOfRoute(context, asked);
    const wishes = { ...asked, start: null, spareDate: null, warm: null, today: null };
    const { plan } = await tripPlan(context, wishes);
    const steps = alongRoute(ground.route.route).map(({ distanceM }) => distanceM);
    const minutes = await minutesAlong(context, asked, steps);
    const view = await routeViewOf(ground, { plan, minutes }, drawings, context, pageFrame);
    const drive = driveOf(fit, cohort.cohort, context.ground.design);
    const { outings } = await exportCohort(context, id);
    const fitPart = { cohort, date, fit, drive };
    return sendPage(reply, routePage({ ...view, fitPart, cohorts: [] }, restingOn(pageFrame, outings)));
  });
}
