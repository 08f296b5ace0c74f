import { exportCohort, getCohort } from '../../app/groups.ts';
import { tripPlan } from '../../app/plans.ts';
import { checkDate, checkSpareDate } from '../../app/question.ts';
import { makeDocument } from '../../document/make-document.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { fitParams } from '../../http/schemas.ts';
import { sendPlanHtml } from '../../http/trip-plan.ts';
import { message } from '../../message.ts';
import { CLOCK } from '../../schema.ts';
import type { Assets } from '../assets.ts';
import { faultText } from '../fault.ts';
import { restingOn } from '../frame.ts';
import { type PageDeps, page, queryOf, sendPage } from '../page.ts';
import { keptPage, planPage } from './view.tsx';

const SCRIPT_TYPE = 'text/javascript';

const said = (query: URLSearchParams, name: string): string | null => query.get(name) || null;

/** The start and the spare date that are asked for. @throws EngineError `bad-request`, `bad-date` */
function chosenIn(query: URLSearchParams, date: string) {
  const start = said(query, 'start');
  if (start !== null && !new RegExp(CLOCK).test(start)) {
    throw new EngineError(
      'bad-request',
      message`the start '${start.slice(0, 20)}' is no time of day: write it as 04:30`,
    );
  }
  const spareDate = said(query, 'spareDate');
  if (spareDate !== null) checkSpareDate(checkDate(spareDate), date);
  return { start, spareDate };
}

const fileNameOf = (route: string, date: string): string => {
  const plain = route.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  return `${plain.slice(0, 60)}-${date}`;
};

export function planPages(app: App, { context, frame }: PageDeps, { scripts, style }: Assets): void {
  const worker = scripts.get('offline');
  const keep = scripts.get('keep');
  if (worker === undefined || keep === undefined)
    throw new RangeError('the scripts that keep plans are missing');

  /** The address of the worker names all that it keeps beside plans: another address, another worker. */
  const workerUrl = (to: (path: string) => string): string => {
    const version = worker.path.replace(/\W/g, '');
    const kept = ['/kept', style.path, keep.path].map((path) => `&keep=${encodeURIComponent(to(path))}`);
    return `${to('/offline.js')}?v=${version}${kept.join('')}`;
  };

  const dayAsked = async (
    params: { readonly id: string; readonly routeId: string },
    query: URLSearchParams,
  ) => {
    const cohort = await getCohort(context, params.id);
    const date = checkDate(query.get('date') ?? cohort.lastTripDate);
    const warm = query.get('warm');
    const isWarm = warm === 'true' ? true : warm === 'false' ? false : null;
    return { cohortId: cohort.id, routeId: params.routeId, date, warm: isWarm, today: null };
  };

  app.get('/cohorts/:id/routes/:routeId/plan', page(fitParams), async (request, reply) => {
    const pageFrame = frame(request);
    const { units } = pageFrame;
    const query = queryOf(request);
    const asked = await dayAsked(request.params, query);
    let fault: string | null = null;
    let chosen: ReturnType<typeof chosenIn> = { start: null, spareDate: null };
    try {
      chosen = chosenIn(query, asked.date);
    } catch (error) {
      fault = faultText(error, units);
    }
    const { cohort, route, plan } = await tripPlan(context, { ...asked, ...chosen });
    const planQuery = new URLSearchParams({ date: asked.date, units });
    const { start, spareDate } = chosen;
    for (const [name, value] of Object.entries({ start, spareDate, warm: asked.warm })) {
      if (value !== null) planQuery.set(name, String(value));
    }
    const view = {
      cohort,
      route,
      date: asked.date,
      document: makeDocument(plan, context.ground.design, units),
      query,
      fault,
      planPath: `/cohorts/${cohort.id}/routes/${route.id}/plan/sheets?${planQuery}`,
      fileName: fileNameOf(route.route.name, asked.date),
      workerUrl: workerUrl(pageFrame.to),
    };
    const { outings } = await exportCohort(context, cohort.id);
    return sendPage(reply, planPage(view, restingOn(pageFrame, outings)), fault === null ? 200 : 400);
  });

  // The plan itself, whatever a browser says it takes: saved by a link it asks for anything.
  app.get('/cohorts/:id/routes/:routeId/plan/sheets', page(fitParams), async (request, reply) => {
    const query = queryOf(request);
    const asked = await dayAsked(request.params, query);
    // A plan that is kept says its units in its address; asked for by hand it has those of the pages.
    const named = query.get('units');
    const units = named === 'us' || named === 'metric' ? named : frame(request).units;
    const { plan } = await tripPlan(context, { ...asked, ...chosenIn(query, asked.date) });
    reply.header('vary', 'Accept, Cookie');
    return sendPlanHtml(reply, makeDocument(plan, context.ground.design, units));
  });

  app.get('/kept', page(), async (request, reply) => {
    const pageFrame = frame(request);
    return sendPage(reply, keptPage(workerUrl(pageFrame.to), pageFrame));
  });

  // At the root: a worker sees only what lies below its own address. Its own policy is what it may fetch.
  app.get('/offline.js', page(undefined, SCRIPT_TYPE), async (_, reply) =>
    reply
      .type(`${SCRIPT_TYPE}; charset=utf-8`)
      .header('content-security-policy', "default-src 'none';connect-src 'self'")
      .send(worker.text),
  );
}
