import { setImmediate } from 'node:timers/promises';
import type { FastifyRequest } from 'fastify';
import { listOutings } from '../../app/days.ts';
import { getCohort } from '../../app/groups.ts';
import { checkDate } from '../../app/question.ts';
import { namedRoutes } from '../../app/routes.ts';
import { explainRanks, listedRoutes, movesIn, rankStore, withCertainty } from '../../app/shortlist.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { knownError } from '../../http/problem.ts';
import { cohortParams } from '../../http/schemas.ts';
import { errorText } from '../../text/errors.ts';
import { peopleText } from '../../text/people-words.ts';
import { plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { formFaults } from '../fault.ts';
import { restingOn } from '../frame.ts';
import { PAGE, type PageDeps, queryOf, sendPage, sendPageInParts } from '../page-deps.ts';
import type { ShortlistAsked, ShortlistView } from './shortlist.ts';
import { shortlistFaultFragment, shortlistFragment } from './shortlist-part.tsx';
import { askedOf, chosen, rowsOf, shortlistViewOf, shownOf } from './shortlist-rows.ts';
import { cohortPage } from './view.tsx';
import { askedChanges, WHAT_IF_RULES, WHAT_IF_VEHICLES, whatIfOf } from './what-if-form.ts';

const ALL_OUTINGS = { limit: 10_000, after: null };

interface AskedDate {
  readonly date: string;
  /** What is wrong with the one asked for; `null`: nothing. */
  readonly fault: string | null;
}

/** The date asked for; else the last one asked about or walked. */
function dateOf(text: string | null, usual: string, units: UnitSystem): AskedDate {
  if (text === null || text === '') return { date: usual, fault: null };
  try {
    return { date: checkDate(text), fault: null };
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    return { date: usual, fault: errorText(error, units) };
  }
}

/**
 * A cohort's shortlist: the page, and the part of it that changes.
 * Long because it is a list: one handler after another.
 */
export function cohortPages(app: App, { context, frame }: PageDeps): void {
  async function viewOf(id: string, request: FastifyRequest) {
    const query = queryOf(request);
    const stored = await getCohort(context, id);
    const { units } = frame(request);
    const { date, fault } = dateOf(query.get('date'), stored.lastTripDate, units);
    const asked = askedOf(query, date);
    const named = asked.text === '' ? [] : await namedRoutes(context);
    const trailheads = new Map(named.map((route) => [route.id, route.trailhead]));
    const answerTo = async (question: ShortlistAsked) => {
      const changes = whatIfOf(question.changes, stored.cohort, date, units);
      const ranked = await rankStore(context, { cohortId: id, date, changes });
      const listed = listedRoutes(ranked);
      return {
        asked: question,
        stored: listed.length,
        async list(): Promise<ShortlistView> {
          const wanted = chosen(listed, question, trailheads);
          const ranks = shownOf(wanted, question).map(({ rank }) => rank);
          const fits = await explainRanks(context, ranked, ranks);
          // Made while it is still sampled how sure the order is.
          const rows = rowsOf(fits, ranked.cohort, date, context.ground.design, frame(request));
          const certainty = await ranked.ranking.certainty;
          const moved = movesIn(context, ranked);
          const found = { listed, wanted, fits: withCertainty(fits, certainty), certainty, moved, rows };
          return shortlistViewOf(id, found, question, units);
        },
      };
    };
    try {
      return { cohort: stored.cohort, date: fault, whatIf: null, ...(await answerTo(asked)) };
    } catch (error) {
      if (asked.changes.length === 0) throw error;
      const whatIf = formFaults(error, query, WHAT_IF_RULES, units);
      return { cohort: stored.cohort, date: fault, whatIf, ...(await answerTo({ ...asked, changes: [] })) };
    }
  }

  app.get(
    '/cohorts/:id',
    { ...PAGE, schema: { hide: true, params: cohortParams } },
    async (request, reply) => {
      const { id } = request.params;
      const pageFrame = frame(request);
      const { cohort, date: fault, whatIf, asked, stored, list } = await viewOf(id, request);
      const changes = askedChanges(queryOf(request));
      const outings = await listOutings(context, id, ALL_OUTINGS);
      const view = {
        name: cohort.name,
        people: peopleText(cohort),
        outings: outings.length,
        fault,
        hasPassed: asked.date < pageFrame.today,
        whatIf: {
          values: Object.fromEntries(changes),
          without: changes.filter(([name]) => name === 'without').map(([, label]) => label),
          going: cohort.going ?? cohort.members ?? [],
          vehicles: (cohort.vehicles ?? []).map(({ seats }) => plural(seats, 'seat')).join(', '),
          rows: WHAT_IF_VEHICLES,
          fault: whatIf,
        },
        cohortId: id,
        asked,
        stored,
      };
      const [before, after] = cohortPage(view, restingOn(pageFrame, outings));
      const status = fault === null && whatIf === null ? 200 : 400;
      if (stored === 0) return sendPage(reply, before + after, status);

      async function* parts(): AsyncGenerator<string> {
        yield before;
        // So that it is on its way before what takes long is begun.
        await setImmediate();
        try {
          yield shortlistFragment(await list(), pageFrame);
        } catch (thrown) {
          const error = knownError(thrown);
          if (error.status >= 500) request.log.error({ err: thrown }, 'request failed');
          yield shortlistFaultFragment(errorText(error, pageFrame.units));
        }
        yield after;
      }
      return sendPageInParts(reply, parts(), status);
    },
  );

  app.get(
    '/cohorts/:id/shortlist',
    { ...PAGE, schema: { hide: true, params: cohortParams } },
    async (request, reply) => {
      const { date, whatIf, list } = await viewOf(request.params.id, request);
      const isAnswered = date === null && whatIf === null;
      return sendPage(reply, shortlistFragment(await list(), frame(request)), isAnswered ? 200 : 400);
    },
  );
}
