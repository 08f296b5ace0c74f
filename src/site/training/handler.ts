import type { Context } from '../../app/context.ts';
import { exportCohort, getCohort, pacePictureOf, shownBy } from '../../app/groups.ts';
import { ladderTo, trainingFor } from '../../app/plans.ts';
import { checkDate } from '../../app/question.ts';
import { listRoutes } from '../../app/routes.ts';
import { fitOfRoute, type RouteAsked } from '../../app/shortlist.ts';
import type { App } from '../../http/deps.ts';
import { cohortParams } from '../../http/schemas.ts';
import { questionText, reasonText } from '../../text/criteria/index.ts';
import { shownRows, speedText } from '../../text/shown-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { climbText, lengthText, percentText, plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { ladderView, type StepView, trainingView } from '../../views/training-view.ts';
import { restingOn } from '../frame.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from '../page-deps.ts';
import { type TrainingPageView, trainingPageHtml } from './view.tsx';

/** What training can bring. */
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

const whereOf = ({ routes, repeats, stair }: StepView): string =>
  [...routes.map(({ text }) => text), ...(repeats === null ? [] : [repeats.text]), stair.text].join('; or ');

async function targetOf(
  context: Context,
  asked: RouteAsked,
  units: UnitSystem,
): Promise<TrainingPageView['target']> {
  const { fit } = await fitOfRoute(context, asked);
  const plan = trainingView(await trainingFor(context, { ...asked, from: null }), units);
  const ladder = ladderView(await ladderTo(context, { ...asked, from: null }), units);
  return {
    id: asked.routeId,
    name: fit.route.name,
    answers: fit.judgements
      .filter(({ name }) => TRAINED.has(name))
      .map((judgement) => ({
        question: questionText(judgement.name),
        text: `${VERDICT_TEXT[judgement.verdict]}; ${reasonText(judgement, units)}`,
      })),
    text: [plan.text, ...plan.notes].join(' '),
    milestones: plan.milestones.map(({ text }) => text),
    steps: plan.steps.map((step) => ({
      date: step.date,
      text: step.text,
      why: step.why,
      where: whereOf(step),
    })),
    inTheWay: plan.after?.inTheWay.map(({ reason }) => reason) ?? [],
    ladderText: ladder.text,
    rungs: ladder.rungs.map((rung) => [
      rung.date,
      rung.name,
      lengthText(rung.distanceM, units),
      climbText(rung.gainM, units),
      rung.rockClass ?? 'not stated',
      VERDICT_TEXT[rung.verdict],
    ]),
  };
}

/** What a cohort has shown against what a route asks. For leaders: it says whose label limits what, on the screen alone. */
export function trainingPages(app: App, { context, frame }: PageDeps): void {
  app.get(
    '/cohorts/:id/training',
    { ...PAGE, schema: { hide: true, params: cohortParams } },
    async (request, reply) => {
      const { id } = request.params;
      const pageFrame = frame(request);
      const query = queryOf(request);
      const { cohort, lastTripDate } = await getCohort(context, id);
      const date = checkDate(query.get('date') ?? lastTripDate);
      const routeId = query.get('route') ?? '';
      const shown = await shownBy(context, id, date);
      const routes = await listRoutes(context, { limit: 500, after: null });
      const view = {
        cohort: { id, name: cohort.name },
        date,
        routes: routes
          .map((row) => ({ id: row.id, name: row.route.name }))
          .sort((a, b) => a.name.localeCompare(b.name, 'en')),
        target:
          routeId === '' ? null : await targetOf(context, { cohortId: id, routeId, date }, pageFrame.units),
        shown: shownRows(shown, pageFrame.units),
        pace: paceLines(shown),
        picture: await pacePictureOf(context, id, date),
        limits: shown.limits.map(({ text }) => text),
        toCheck: shown.toCheck,
      };
      const { outings } = await exportCohort(context, id);
      return sendPage(reply, trainingPageHtml(view, restingOn(pageFrame, outings)));
    },
  );
}
