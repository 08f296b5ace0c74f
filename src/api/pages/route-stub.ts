import { checkDate } from '../../engine.ts';
import { dayText } from '../../fit/shortlist-words.ts';
import { questionText, VERDICT_TEXT } from '../../fit/verdict-words.ts';
import { fitFactsPage, routeFactsPage } from '../../web/pages/route-stub.tsx';
import type { App } from '../deps.ts';
import { fitParams, routeParams } from '../schemas.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from './page-deps.ts';
import { rowOfRoute } from './route-words.ts';
import { markOf } from './shortlist-view.ts';

/** A route by itself, and for a cohort. */
export function routePages(app: App, { library, frame }: PageDeps): void {
  app.get('/routes/:id', { ...PAGE, schema: { hide: true, params: routeParams } }, async (request, reply) => {
    const of = frame(request);
    const stored = await library.getRoute(request.params.id);
    const { name, length, climb, top, rockClass, lacking } = rowOfRoute(stored, of.units);
    const facts = [
      `length ${length}`,
      `climb ${climb}`,
      `top ${top}`,
      `class ${rockClass ?? 'not stated'}`,
      ...(lacking.length > 0 ? [`to state: ${lacking.join(', ')}`] : []),
      ...stored.route.notes.map(({ text }) => text),
    ];
    return sendPage(reply, routeFactsPage({ id: stored.id, name, facts }, of));
  });

  app.get(
    '/cohorts/:id/routes/:routeId',
    { ...PAGE, schema: { hide: true, params: fitParams } },
    async (request, reply) => {
      const { id, routeId } = request.params;
      const of = frame(request);
      const stored = await library.getCohort(id);
      const date = checkDate(queryOf(request).get('date') ?? stored.lastTripDate);
      const { fit } = await library.fit(id, routeId, date, of.units);
      const view = {
        cohort: { id, name: stored.cohort.name },
        route: { id: routeId, name: fit.route.name },
        date,
        verdictText: VERDICT_TEXT[fit.verdict],
        day: dayText(fit),
        marks: fit.judgements.map(markOf),
        answers: fit.judgements.map(({ name, verdict, reason }) => ({
          question: questionText(name),
          verdict,
          text: reason,
        })),
      };
      return sendPage(reply, fitFactsPage(view, of));
    },
  );
}
