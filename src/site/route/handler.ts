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
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { questionText, reasonText } from '../../text/criteria/index.ts';
import { helpsOf, questionsOf } from '../../text/fit-words.ts';
import { canBeChosen, dayText, driveOf, shortNightText } from '../../text/shortlist-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { markOf } from '../cohort/shortlist-rows.ts';
import { seeOther } from '../form.ts';
import { restingOn } from '../frame.ts';
import { type MapDrawings, mapKey, PNG_TYPE, sendShade, shadeFile } from '../map-views.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from '../page-deps.ts';
import { routeViewOf } from './figures.ts';
import { routePage } from './view.tsx';

/** Cohorts offered on the page of a route (design). */
const COHORTS = { limit: 20, after: null };

const shadeParams = Type.Object({ ...routeParams.properties, file: shadeFile });

/**
 * A route by itself, and for a cohort.
 * Long because it is a list: one handler after another.
 */
export function routePages(app: App, { context, frame }: PageDeps, drawings: MapDrawings): void {
  app.get('/routes/:id', { ...PAGE, schema: { hide: true, params: routeParams } }, async (request, reply) => {
    const { id } = request.params;
    const pageFrame = frame(request);
    const query = queryOf(request);
    const cohortId = query.get('cohort');
    if (cohortId !== null && cohortId !== '') {
      const { id: known, lastTripDate } = await getCohort(context, cohortId);
      const date = checkDate(query.get('date') ?? lastTripDate);
      return seeOther(reply, pageFrame.to(`/cohorts/${known}/routes/${id}?date=${date}`));
    }
    const view = await routeViewOf(await mapOfRoute(context, id), null, drawings, { context, ...pageFrame });
    const cohorts = await listCohorts(context, COHORTS);
    return sendPage(
      reply,
      routePage(
        { ...view, fit: null, cohorts: cohorts.map((row) => ({ id: row.id, name: row.cohort.name })) },
        pageFrame,
      ),
    );
  });

  app.get(
    '/routes/:id/shade/:file',
    { ...PAGE, config: { produces: [PNG_TYPE] }, schema: { hide: true, params: shadeParams } },
    async (request, reply) => {
      const { id, file } = request.params;
      const { route, map } = await mapOfRoute(context, id);
      if (map === null) throw new EngineError('not-found', 'there is no map of this route');
      return sendShade(request, reply, { file, key: mapKey(route, context), map }, drawings);
    },
  );

  app.get(
    '/cohorts/:id/routes/:routeId',
    { ...PAGE, schema: { hide: true, params: fitParams } },
    async (request, reply) => {
      const { id, routeId } = request.params;
      const pageFrame = frame(request);
      const stored = await getCohort(context, id);
      const date = checkDate(queryOf(request).get('date') ?? stored.lastTripDate);
      const asked = { cohortId: id, routeId, date };
      const ground = await mapOfRoute(context, routeId);
      const { fit } = await fitOfRoute(context, asked);
      const { plan } = await tripPlan(context, {
        ...asked,
        start: null,
        spareDate: null,
        warm: null,
        today: null,
      });
      const drive = driveOf(fit, stored.cohort, context.ground.design);
      const { notes } = fit.route.attributes;
      const steps = alongRoute(ground.route.route).map(({ distanceM }) => distanceM);
      const minutes = await minutesAlong(context, asked, steps);
      const view = await routeViewOf(ground, { plan, minutes }, drawings, { context, ...pageFrame });
      const { outings } = await exportCohort(context, id);
      return sendPage(
        reply,
        routePage(
          {
            ...view,
            cohorts: [],
            fit: {
              cohort: { id, name: stored.cohort.name },
              date,
              verdictText: VERDICT_TEXT[fit.verdict],
              meaning: MEANING_OF_FITS,
              day: dayText(fit, drive?.departMs ?? null),
              shortNight: shortNightText(drive),
              toCheck: questionsOf(fit, pageFrame.units),
              helps: helpsOf(fit, pageFrame.units),
              noted: canBeChosen(fit) ? (notes ?? null) : null,
              marks: fit.judgements.map(markOf),
              answers: fit.judgements.map((judgement) => ({
                question: questionText(judgement.name),
                verdict: judgement.verdict,
                text: reasonText(judgement, pageFrame.units),
              })),
            },
          },
          restingOn(pageFrame, outings),
        ),
      );
    },
  );
}
