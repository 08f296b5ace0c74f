import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { listCohorts } from '../../app/groups.ts';
import { namedRoutes } from '../../app/routes.ts';
import { storedSeasonBoard } from '../../app/season.ts';
import { EngineError, faultsOf, together } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { knownError } from '../../http/problem.ts';
import { MOST_COHORTS, type SeasonRequest } from '../../ingest/season-file.ts';
import { errorText } from '../../text/errors.ts';
import { plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { formFaults } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { PAGE, type PageDeps, queryOf, sendPage, sendPageInParts } from '../page-deps.ts';
import { seasonBoardView } from './board.ts';
import { SEASON_RULES, seasonAsked, seasonFormView } from './form.ts';
import { seasonFormPage } from './form-view.tsx';
import { seasonBoardFragment, seasonBoardPage, seasonFaultFragment, seasonWaitingPage } from './view.tsx';

const ALL = { limit: 10_000, after: null };
/** A board that is there so soon is sent at once, with a status of its own; for others the page begins with words (design). */
const SOON_MS = 1500;
/** A blank is sent so often while a board is worked out: a connection without traffic is dropped (design). */
const BLANK_MS = 15_000;

/** The season board: what is asked, and who goes when. */
export function seasonPages(app: App, { context, frame }: PageDeps): void {
  const { solveS } = context.ground.design.season;

  async function form(request: FastifyRequest, reply: FastifyReply, fault: FormFault | null) {
    const stored = await listCohorts(context, ALL);
    const store = {
      cohorts: stored.slice(0, MOST_COHORTS),
      cohortsBeside: Math.max(0, stored.length - MOST_COHORTS),
      routes: await namedRoutes(context),
      solveS,
    };
    const view = seasonFormView(queryOf(request), store, fault);
    return sendPage(reply, seasonFormPage(view, frame(request)), fault === null ? 200 : 400);
  }

  /** What is wrong with a season that was refused, and with the places that it names beside it. */
  async function faultsIn(query: URLSearchParams, units: UnitSystem): Promise<FormFault> {
    const routes = await namedRoutes(context);
    const places = {
      trailheads: routes.map(({ trailhead }) => trailhead),
      offices: routes.map(({ permitFrom }) => permitFrom),
    };
    return formFaults(together(faultsOf(() => seasonAsked(query, places))), query, SEASON_RULES, units);
  }

  app.get('/season', { ...PAGE, schema: { hide: true } }, (request, reply) => form(request, reply, null));

  app.get('/season/board', { ...PAGE, schema: { hide: true } }, async (request, reply) => {
    const query = queryOf(request);
    const pageFrame = frame(request);
    let asked: SeasonRequest;
    try {
      asked = seasonAsked(query, null);
    } catch (error) {
      if (!(error instanceof EngineError)) throw error;
      return form(request, reply, await faultsIn(query, pageFrame.units));
    }
    const { name, cohorts, dates } = asked;
    const title = {
      title: name ?? 'Season board',
      size: `${plural(cohorts.length, 'cohort')}, ${plural(dates.length, 'date')}`,
      changePath: `/season?${query}`,
      solveS,
    };
    const work = storedSeasonBoard(context, asked).then(
      (board) => ({ view: seasonBoardView(board, asked, pageFrame.today, pageFrame.units) }),
      (error: unknown) => ({ error }),
    );
    const soon = await Promise.race([work, sleep(SOON_MS, null, { ref: false })]);
    if (soon !== null) {
      if ('error' in soon)
        return form(request, reply, formFaults(soon.error, query, SEASON_RULES, pageFrame.units));
      return sendPage(reply, seasonBoardPage(title, soon.view, pageFrame));
    }

    async function* parts(): AsyncGenerator<string> {
      const [before, after] = seasonWaitingPage(title, pageFrame);
      yield before;
      for (;;) {
        const made = await Promise.race([work, sleep(BLANK_MS, null, { ref: false })]);
        if (made === null) {
          yield '\n';
          continue;
        }
        if ('error' in made) {
          const error = knownError(made.error);
          if (error.status >= 500) request.log.error({ err: made.error }, 'request failed');
          yield seasonFaultFragment(errorText(error, pageFrame.units));
        } else yield seasonBoardFragment(made.view, pageFrame);
        break;
      }
      yield after;
    }
    return sendPageInParts(reply, parts());
  });
}
