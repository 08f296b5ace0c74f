import type { Context } from '../../app/context.ts';
import { exportCohort, getCohort, pacePictureOf, shownBy } from '../../app/groups.ts';
import { ladderTo, trainingFor } from '../../app/plans.ts';
import { checkDate } from '../../app/question.ts';
import { listRoutes } from '../../app/routes.ts';
import { fitOfRoute, type RouteAsked } from '../../app/shortlist.ts';
import type { App } from '../../http/deps.ts';
import { cohortParams } from '../../http/schemas.ts';
import { speedText } from '../../text/shown-words.ts';
import { percentText, plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { ladderView, trainingView } from '../../views/training-view.ts';
import { restingOn } from '../frame.ts';
import { type PageDeps, page, queryOf, sendPage } from '../page.ts';
import { trainingPageHtml } from './view.tsx';

const TRAINED: ReadonlySet<string> = new Set(['distance', 'gain', 'effort', 'rockClass']);

function paceLines({ pace, stopsMinPerHour }: Awaited<ReturnType<typeof shownBy>>): string[] {
  return [
    `From ${plural(pace.clockedOutings, 'outing')} with walking times.`,
    `Going up: ${speedText(pace.upOfPrior)}.`,
    `Going down: ${speedText(pace.downOfPrior)}, or DIN 33466 where that is slower.`,
    `On 8 days in 10 a plain mountain day lies within ${percentText(pace.relativeWidth / 2)} either way of its middle time.`,
    `Stops: ${Math.round(stopsMinPerHour)} min an hour, meals aside.`,
    `To know it better: ${pace.sharpenBy.text}; it would narrow the doubt by ${percentText(pace.sharpenBy.narrowsBy)}.`,
  ];
}

/** How a route is trained for, beside what it asks. */
async function targetOf(context: Context, asked: RouteAsked, units: UnitSystem) {
  const { fit } = await fitOfRoute(context, asked);
  const wishes = { ...asked, from: null };
  return {
    id: asked.routeId,
    name: fit.route.name,
    judgements: fit.judgements.filter(({ name }) => TRAINED.has(name)),
    plan: trainingView(await trainingFor(context, wishes), units),
    ladder: ladderView(await ladderTo(context, wishes), units),
  };
}

/** What a cohort has shown against what a route asks. For leaders: it says whose label limits what, on the screen alone. */
export function trainingPages(app: App, { context, frame }: PageDeps): void {
  app.get('/cohorts/:id/training', page(cohortParams), async (request, reply) => {
    const { id } = request.params;
    const pageFrame = frame(request);
    const { units } = pageFrame;
    const query = queryOf(request);
    const { cohort, lastTripDate } = await getCohort(context, id);
    const date = checkDate(query.get('date') ?? lastTripDate);
    const routeId = query.get('route') ?? '';
    const shown = await shownBy(context, id, date);
    const routes = [...(await listRoutes(context, { limit: 500, after: null }))].sort((a, b) =>
      a.route.name.localeCompare(b.route.name, 'en'),
    );
    const target = routeId === '' ? null : await targetOf(context, { cohortId: id, routeId, date }, units);
    const picture = await pacePictureOf(context, id, date);
    const view = { id, cohort, date, routes, target, shown, pace: paceLines(shown), picture };
    const { outings } = await exportCohort(context, id);
    return sendPage(reply, trainingPageHtml(view, restingOn(pageFrame, outings)));
  });
}
