import { setImmediate } from 'node:timers/promises';
import type { FastifyRequest } from 'fastify';
import { listOutings } from '../../app/days.ts';
import { getCohort } from '../../app/groups.ts';
import { checkDate } from '../../app/question.ts';
import { namedRoutes } from '../../app/routes.ts';
import { explainRanks, listedRoutes, movesIn, rankStore, withCertainty } from '../../app/shortlist.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { cohortParams } from '../../http/schemas.ts';
import { errorText } from '../../text/errors.ts';
import type { UnitSystem } from '../../units.ts';
import { formFaults, lateFaultText } from '../fault.ts';
import { restingOn } from '../frame.ts';
import { ALL, type PageDeps, page, queryOf, sendPage } from '../page.ts';
import { askedOf, chosen, type ShortlistAsked, shownOf } from './shortlist.ts';
import { shortlistFaultFragment, shortlistFragment } from './shortlist-part.tsx';
import { rowsOf } from './shortlist-row.tsx';
import { cohortPage } from './view.tsx';
import { askedChanges, whatIfOf, whatIfRules } from './what-if-form.ts';

/** The date asked for; else the last one asked about or walked, with what is wrong with the one asked for. */
function dateOf(text: string | null, usual: string, units: UnitSystem) {
  if (text === null || text === '') return { date: usual, dateFault: null };
  try {
    return { date: checkDate(text), dateFault: null };
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    return { date: usual, dateFault: errorText(error, units) };
  }
}

/** A cohort's shortlist: the page, and the part of it that changes. */
export function cohortPages(app: App, { context, frame }: PageDeps): void {
  async function answerTo(id: string, request: FastifyRequest) {
    const query = queryOf(request);
    const pageFrame = frame(request);
    const { units } = pageFrame;
    const stored = await getCohort(context, id);
    const { date, dateFault } = dateOf(query.get('date'), stored.lastTripDate, units);
    const asked = askedOf(query, date);
    const named = asked.text === '' ? [] : await namedRoutes(context);
    const trailheads = new Map(named.map((route) => [route.id, route.trailhead]));
    const answer = async (question: ShortlistAsked) => {
      const changes = whatIfOf(question.changes, stored.cohort, date, units);
      const ranked = await rankStore(context, { cohortId: id, date, changes });
      const listed = listedRoutes(ranked);
      async function fragment(): Promise<string> {
        const wanted = chosen(listed, question, trailheads);
        const ranks = shownOf(wanted, question).shown.map(({ rank }) => rank);
        const fits = await explainRanks(context, ranked, ranks);
        // Made while it is still sampled how sure the order is.
        const { cohort } = ranked;
        const rows = rowsOf(fits, { cohort, date, design: context.ground.design }, pageFrame);
        const certainty = await ranked.ranking.certainty;
        const sure = withCertainty(fits, certainty);
        const moved = movesIn(context, ranked);
        const view = { cohortId: id, asked: question, listed, wanted, fits: sure, rows, certainty, moved };
        return shortlistFragment(view, pageFrame);
      }
      return { stored, asked: question, routes: listed.length, fragment };
    };
    try {
      return { dateFault, whatIfFault: null, ...(await answer(asked)) };
    } catch (error) {
      if (asked.changes.length === 0) throw error;
      const whatIfFault = formFaults(error, query, whatIfRules(units), units);
      return { dateFault, whatIfFault, ...(await answer({ ...asked, changes: [] })) };
    }
  }

  app.get('/cohorts/:id', page(cohortParams), async (request, reply) => {
    const { id } = request.params;
    const pageFrame = frame(request);
    const { fragment, ...answer } = await answerTo(id, request);
    const { dateFault, whatIfFault, routes } = answer;
    const outings = await listOutings(context, id, ALL);
    const view = { ...answer, changes: askedChanges(queryOf(request)), outings: outings.length };
    const [before, after] = cohortPage(view, restingOn(pageFrame, outings));
    const status = dateFault === null && whatIfFault === null ? 200 : 400;
    if (routes === 0) return sendPage(reply, before + after, status);

    async function* parts(): AsyncGenerator<string> {
      yield before;
      // So that it is on its way before what takes long is begun.
      await setImmediate();
      yield await fragment().catch((thrown: unknown) =>
        shortlistFaultFragment(lateFaultText(thrown, request, pageFrame.units)),
      );
      yield after;
    }
    return sendPage(reply, parts(), status);
  });

  app.get('/cohorts/:id/shortlist', page(cohortParams), async (request, reply) => {
    const { dateFault, whatIfFault, fragment } = await answerTo(request.params.id, request);
    return sendPage(reply, await fragment(), dateFault === null && whatIfFault === null ? 200 : 400);
  });
}
