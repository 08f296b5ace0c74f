import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { listCohorts } from '../../app/groups.ts';
import { namedRoutes } from '../../app/routes.ts';
import { storedSeasonBoard } from '../../app/season.ts';
import { EngineError, faultsOf, together } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { MOST_COHORTS, type SeasonRequest } from '../../ingest/season-file.ts';
import type { UnitSystem } from '../../units.ts';
import { formFaults, lateFaultText } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { ALL, type PageDeps, page, queryOf, sendPage } from '../page.ts';
import { seasonAsked, seasonRules } from './form.ts';
import { seasonFormPage } from './form-view.tsx';
import { seasonAround, seasonBoardFragment, seasonFaultFragment } from './view.tsx';

/** A board that is there so soon is sent at once, with a status of its own; for others the page begins with words (design). */
const SOON_MS = 1500;
/** A blank is sent so often while a board is worked out: a connection without traffic is dropped (design). */
const BLANK_MS = 15_000;

export function seasonPages(app: App, { context, frame }: PageDeps): void {
  const { solveS } = context.ground.design.season;

  async function form(request: FastifyRequest, reply: FastifyReply, fault: FormFault | null) {
    const stored = await listCohorts(context, ALL);
    const cohorts = stored
      .slice(0, MOST_COHORTS)
      .sort((a, b) => a.cohort.name.localeCompare(b.cohort.name, 'en', { numeric: true }));
    const cohortsBeside = Math.max(0, stored.length - MOST_COHORTS);
    const routes = await namedRoutes(context);
    const view = { form: queryOf(request), fault, cohorts, cohortsBeside, routes, solveS };
    return sendPage(reply, seasonFormPage(view, frame(request)), fault === null ? 200 : 400);
  }

  /** What is wrong with a season that was refused, and with the places that it names beside it. */
  async function faultsIn(query: URLSearchParams, units: UnitSystem): Promise<FormFault> {
    const routes = await namedRoutes(context);
    const places = {
      trailheads: routes.map(({ trailhead }) => trailhead),
      offices: routes.map(({ permitFrom }) => permitFrom),
    };
    const all = together(faultsOf(() => seasonAsked(query, places)));
    return formFaults(all, query, seasonRules(query), units);
  }

  app.get('/season', page(), (request, reply) => form(request, reply, null));

  app.get('/season/board', page(), async (request, reply) => {
    const query = queryOf(request);
    const pageFrame = frame(request);
    const { units } = pageFrame;
    let seasonRequest: SeasonRequest;
    try {
      seasonRequest = seasonAsked(query, null);
    } catch (error) {
      if (!(error instanceof EngineError)) throw error;
      return form(request, reply, await faultsIn(query, units));
    }
    const asked = { request: seasonRequest, changePath: `/season?${query}`, solveS };
    const work = storedSeasonBoard(context, seasonRequest).then(
      (board) => ({ fragment: seasonBoardFragment(board, asked, pageFrame) }),
      (error: unknown) => ({ error }),
    );
    const soon = await Promise.race([work, sleep(SOON_MS, null, { ref: false })]);
    if (soon !== null) {
      if ('error' in soon)
        return form(request, reply, formFaults(soon.error, query, seasonRules(query), units));
      return sendPage(reply, seasonAround(asked, pageFrame, false).join(soon.fragment));
    }

    async function* parts(): AsyncGenerator<string> {
      const [before, after] = seasonAround(asked, pageFrame, true);
      yield before;
      let made: Awaited<typeof work> | null = null;
      while (made === null) {
        made = await Promise.race([work, sleep(BLANK_MS, null, { ref: false })]);
        if (made === null) yield '\n';
      }
      yield 'error' in made ? seasonFaultFragment(lateFaultText(made.error, request, units)) : made.fragment;
      yield after;
    }
    return sendPage(reply, parts());
  });
}
