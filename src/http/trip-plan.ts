import { createHash } from 'node:crypto';
import type { FastifyReply } from 'fastify';
import Type from 'typebox';
import { ladderTo, trainingFor, tripPlan } from '../app/plans.ts';
import { checkDate, checkSpareDate } from '../app/question.ts';
import { makeDocument } from '../document/make-document.ts';
import type { PlanDocument } from '../document/plan-document.ts';
import { planHtml } from '../document/plan-html.tsx';
import { tripPlanView } from '../document/trip-plan-view.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { checkpointsOf } from '../route/checkpoints.ts';
import { CLOCK, closed, oneOf } from '../schema.ts';
import { ladderView, trainingView } from '../views/training-view.ts';
import type { App, ResourceDeps } from './deps.ts';
import { GPX_TYPE, HTML_TYPE, JSON_TYPE, preferred } from './media.ts';
import { gpxFile } from './route-gpx.ts';
import { answers, cohortParams, dateQuery, dayParameter, fitParams, unitsQuery } from './schemas.ts';

const tags = ['plans'];

const ANSWERS = [JSON_TYPE, HTML_TYPE, GPX_TYPE];

const tripPlanQuery = closed({
  ...dateQuery,
  ...unitsQuery,
  start: Type.Optional(
    Type.String({
      pattern: CLOCK,
      description: 'a time of day as HH:MM, for example 04:30: the start, where the leader chooses it',
    }),
  ),
  spareDate: dayParameter('a day after the trip’s; without it one is suggested'),
  warm: Type.Optional(
    oneOf(['true', 'false'], {
      description: 'whether a warm day is forecast; left out: not known',
    }),
  ),
  today: dayParameter('training starts after this day; without it today, in UTC'),
});

const trainingPlanQuery = closed({
  ...dateQuery,
  from: dayParameter('training starts after this day; without it today, in UTC'),
  ...unitsQuery,
});

const ladderQuery = closed({
  ...dateQuery,
  target: Type.String({ minLength: 1, maxLength: 100, description: 'id of the route to lead to' }),
  from: dayParameter('steps start after this day; without it today, in UTC'),
  ...unitsQuery,
});

/** @throws EngineError `bad-date` that names the parameter, unless it is a real day or left out (`null`). */
function dayGiven(name: string, text: string | undefined): string | null {
  if (text === undefined) return null;
  try {
    return checkDate(text);
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    throw new EngineError(error.code, message`the parameter ${name}: ${error.reason}`, {
      pointer: `?${name}`,
    });
  }
}

const STYLE = /<style>([\s\S]*?)<\/style>/g;

/** Makes the reply a page whose own style is all that a browser takes from it, and gives its text. */
export function sendPlanHtml(reply: FastifyReply, document: PlanDocument): string {
  const html = planHtml(document);
  const hashes = [...html.matchAll(STYLE)].map(
    ([, style = '']) => `'sha256-${createHash('sha256').update(style).digest('base64')}'`,
  );
  const policy = [
    "default-src 'none'",
    `style-src ${hashes.length === 0 ? "'none'" : hashes.join(' ')}`,
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ];
  reply.type(`${HTML_TYPE}; charset=utf-8`).header('content-security-policy', policy.join(';'));
  return html;
}

/**
 * The day on one route, and the training for it. Who limits what is never in them.
 * Long because it is a list: every address stands beside its schema.
 */
export function tripPlanResource(app: App, { context }: ResourceDeps): void {
  app.get(
    '/v1/cohorts/:id/routes/:routeId/trip-plan',
    {
      config: { produces: ANSWERS },
      schema: {
        operationId: 'getTripPlan',
        summary: 'The trip plan of one route on a date: numbers, pages to print, or the line for a receiver',
        tags,
        params: fitParams,
        querystring: tripPlanQuery,
        response: answers({ 200: ['the plan, as Accept asks for it', 'TripPlan', [HTML_TYPE, GPX_TYPE]] }),
      },
    },
    async (request, reply) => {
      const { id, routeId } = request.params;
      const { units = 'metric', start = null, warm } = request.query;
      const date = checkDate(request.query.date);
      const spareDate = dayGiven('spareDate', request.query.spareDate);
      checkSpareDate(spareDate, date, { pointer: '?spareDate' });
      const { cohort, route, plan } = await tripPlan(context, {
        cohortId: id,
        routeId,
        date,
        start,
        spareDate,
        warm: warm === undefined ? null : warm === 'true',
        today: dayGiven('today', request.query.today),
      });
      switch (preferred(request.headers.accept, ANSWERS)) {
        case HTML_TYPE:
          return sendPlanHtml(reply, makeDocument(plan, context.ground.design, units));
        case GPX_TYPE: {
          const checkpoints =
            plan.details?.day.places ?? checkpointsOf(route.route, context.ground.design.checkpoints);
          return gpxFile(reply, route.route, checkpoints, units);
        }
        default: {
          const view = tripPlanView(plan, context.ground.design, units);
          return { ...view, cohort: { id: cohort.id, ...view.cohort }, fit: { ...view.fit, id: route.id } };
        }
      }
    },
  );

  app.get(
    '/v1/cohorts/:id/routes/:routeId/training-plan',
    {
      schema: {
        operationId: 'getTrainingPlan',
        summary: 'The training that makes one route fit on a date',
        tags,
        params: fitParams,
        querystring: trainingPlanQuery,
        response: answers({ 200: ['the training', 'TrainingPlan'] }),
      },
    },
    async (request) => {
      const { id, routeId } = request.params;
      const { date, units = 'metric' } = request.query;
      const plan = await trainingFor(context, {
        cohortId: id,
        routeId,
        date: checkDate(date),
        from: dayGiven('from', request.query.from),
      });
      return trainingView(plan, units);
    },
  );

  app.get(
    '/v1/cohorts/:id/ladder',
    {
      schema: {
        operationId: 'getLadder',
        summary: 'The known routes that lead to a target on a date',
        tags,
        params: cohortParams,
        querystring: ladderQuery,
        response: answers({ 200: ['the ladder', 'Ladder'] }),
      },
    },
    async (request) => {
      const { target, date, units = 'metric' } = request.query;
      const ladder = await ladderTo(context, {
        cohortId: request.params.id,
        routeId: target,
        date: checkDate(date),
        from: dayGiven('from', request.query.from),
      });
      return ladderView(ladder, units);
    },
  );
}
