import { exportCohort, getCohort } from '../../app/groups.ts';
import { tripPlan } from '../../app/plans.ts';
import { checkDate, checkSpareDate } from '../../app/question.ts';
import { makeDocument } from '../../document/make-document.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { fitParams } from '../../http/schemas.ts';
import { sendPlanHtml } from '../../http/trip-plan.ts';
import { message } from '../../message.ts';
import type { Assets } from '../assets.ts';
import { faultText } from '../fault.ts';
import { restingOn } from '../frame.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from '../page-deps.ts';
import { keptPage, planPage } from './view.tsx';

const SCRIPT_TYPE = 'text/javascript';

/** A time of day of a form, or none. @throws EngineError `bad-request` */
function timeOf(text: string | null): string | null {
  if (text === null || text === '') return null;
  if (/^([01]\d|2[0-3]):[0-5]\d$/.test(text)) return text;
  throw new EngineError(
    'bad-request',
    message`the start '${text.slice(0, 20)}' is no time of day: write it as 04:30`,
  );
}

function spareOf(text: string | null, date: string): string | null {
  if (text === null || text === '') return null;
  checkSpareDate(checkDate(text), date);
  return text;
}

interface Chosen {
  readonly start: string | null;
  readonly spareDate: string | null;
}

const NOTHING: Chosen = { start: null, spareDate: null };

const chosenIn = (query: URLSearchParams, date: string): Chosen => ({
  start: timeOf(query.get('start')),
  spareDate: spareOf(query.get('spareDate'), date),
});

const warmOf = (text: string | null): boolean | null =>
  text === 'true' ? true : text === 'false' ? false : null;

const fileNameOf = (route: string, date: string): string =>
  `${route
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 60)}-${date}`;

/**
 * The trip plan for people, and keeping it on a device.
 * Long because it is a list: one handler after another.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
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

  app.get(
    '/cohorts/:id/routes/:routeId/plan',
    { ...PAGE, schema: { hide: true, params: fitParams } },
    async (request, reply) => {
      const { id, routeId } = request.params;
      const pageFrame = frame(request);
      const query = queryOf(request);
      const { cohort, lastTripDate } = await getCohort(context, id);
      const date = checkDate(query.get('date') ?? lastTripDate);
      const warm = query.get('warm') ?? '';
      let fault: string | null = null;
      let chosen = NOTHING;
      try {
        chosen = chosenIn(query, date);
      } catch (error) {
        fault = faultText(error, pageFrame.units);
      }
      const asks = {
        cohortId: id,
        routeId,
        date,
        ...chosen,
        warm: warmOf(warm),
        today: null,
      };
      const { route, plan } = await tripPlan(context, asks);
      const { pages } = makeDocument(plan, context.ground.design, pageFrame.units);
      const asked = new URLSearchParams({ date, units: pageFrame.units });
      if (chosen.start !== null) asked.set('start', chosen.start);
      if (chosen.spareDate !== null) asked.set('spareDate', chosen.spareDate);
      if (warm === 'true' || warm === 'false') asked.set('warm', warm);
      const view = {
        cohort: { id, name: cohort.name },
        route: { id: routeId, name: route.route.name },
        date,
        inShort: (pages[0]?.page.sections[0]?.lines ?? []).map(({ text }) => text),
        pages: pages.map(({ key }) => key),
        start: query.get('start') ?? '',
        spareDate: query.get('spareDate') ?? '',
        warm,
        fault,
        planPath: `/cohorts/${id}/routes/${routeId}/plan/sheets?${asked}`,
        fileName: fileNameOf(route.route.name, date),
        workerUrl: workerUrl(pageFrame.to),
      };
      const { outings } = await exportCohort(context, id);
      return sendPage(reply, planPage(view, restingOn(pageFrame, outings)), fault === null ? 200 : 400);
    },
  );

  // The plan itself, whatever a browser says it takes: saved by a link it asks for anything.
  app.get(
    '/cohorts/:id/routes/:routeId/plan/sheets',
    { ...PAGE, schema: { hide: true, params: fitParams } },
    async (request, reply) => {
      const { id, routeId } = request.params;
      const query = queryOf(request);
      const date = checkDate(query.get('date') ?? (await getCohort(context, id)).lastTripDate);
      // A plan that is kept says its units in its address; asked for by hand it has those of the pages.
      const asked = query.get('units');
      const units = asked === 'us' || asked === 'metric' ? asked : frame(request).units;
      const asks = {
        cohortId: id,
        routeId,
        date,
        ...chosenIn(query, date),
        warm: warmOf(query.get('warm')),
        today: null,
      } as const;
      const { plan } = await tripPlan(context, asks);
      return sendPlanHtml(
        reply.header('vary', 'Accept, Cookie'),
        makeDocument(plan, context.ground.design, units),
      );
    },
  );

  app.get('/kept', { ...PAGE, schema: { hide: true } }, async (request, reply) => {
    const pageFrame = frame(request);
    return sendPage(reply, keptPage(workerUrl(pageFrame.to), pageFrame));
  });

  // At the root: a worker sees only what lies below its own address. Its own policy is what it may fetch.
  app.get(
    '/offline.js',
    { ...PAGE, config: { produces: [SCRIPT_TYPE] }, schema: { hide: true } },
    async (_, reply) =>
      reply
        .type(`${SCRIPT_TYPE}; charset=utf-8`)
        .header('content-security-policy', "default-src 'none';connect-src 'self'")
        .send(worker.text),
  );
}
