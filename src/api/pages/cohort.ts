import type { FastifyRequest } from 'fastify';
import { checkDate } from '../../engine.ts';
import { EngineError } from '../../errors.ts';
import { peopleText } from '../../fit/people-words.ts';
import { cohortPage } from '../../web/pages/cohort-page.tsx';
import { shortlistFragment } from '../../web/pages/shortlist-part.tsx';
import type { App } from '../deps.ts';
import { cohortParams } from '../schemas.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from './page-deps.ts';
import { askedOf, shortlistViewOf } from './shortlist-view.ts';

const EVERY = { limit: Number.MAX_SAFE_INTEGER, verdicts: null, afterRank: 0 } as const;
const ALL_OUTINGS = { limit: 10_000, after: null };

interface AskedDate {
  readonly date: string;
  /** What is wrong with the one asked for; `null`: nothing. */
  readonly fault: string | null;
}

/** The date asked for; else the last one asked about or walked. */
function dateOf(text: string | null, usual: string): AskedDate {
  if (text === null || text === '') return { date: usual, fault: null };
  try {
    return { date: checkDate(text), fault: null };
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    return { date: usual, fault: error.message };
  }
}

/** A cohort's shortlist: the page, and the part of it that changes. */
export function cohortPages(app: App, { library, frame }: PageDeps): void {
  async function viewOf(id: string, request: FastifyRequest) {
    const query = queryOf(request);
    const stored = await library.getCohort(id);
    const { units } = frame(request);
    const { date, fault } = dateOf(query.get('date'), stored.lastTripDate);
    const { fits } = await library.shortlist(id, date, { ...EVERY, units });
    return { stored, fault, shortlist: shortlistViewOf(id, fits, askedOf(query, date), units) };
  }

  app.get(
    '/cohorts/:id',
    { ...PAGE, schema: { hide: true, params: cohortParams } },
    async (request, reply) => {
      const { id } = request.params;
      const of = frame(request);
      const { stored, fault, shortlist } = await viewOf(id, request);
      const view = {
        name: stored.cohort.name,
        people: peopleText(stored.cohort),
        outings: (await library.listOutings(id, ALL_OUTINGS)).length,
        fault,
        hasPassed: shortlist.asked.date < of.today,
        shortlist,
      };
      return sendPage(reply, cohortPage(view, of), fault === null ? 200 : 400);
    },
  );

  app.get(
    '/cohorts/:id/shortlist',
    { ...PAGE, schema: { hide: true, params: cohortParams } },
    async (request, reply) => {
      const { fault, shortlist } = await viewOf(request.params.id, request);
      return sendPage(reply, shortlistFragment(shortlist, frame(request)), fault === null ? 200 : 400);
    },
  );
}
