import { createHash } from 'node:crypto';
import type { FastifyReply } from 'fastify';
import Type from 'typebox';
import { ladderTo, type TrainingAsked, trainingFor, tripPlan } from '../app/plans.ts';
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
import { cohortParams, dateQuery, dayParameter, fitParams, operation, unitsQuery } from './schemas.ts';

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

const trainingFields = {
  ...dateQuery,
  from: dayParameter('training starts after this day; without it today, in UTC'),
  ...unitsQuery,
};

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
    const reason = message`the parameter ${name}: ${error.reason}`;
    throw new EngineError(error.code, reason, { pointer: `?${name}` });
  }
}

function trainingAsked(
  cohortId: string,
  routeId: string,
  { date, from }: Type.Static<Type.TObject<typeof trainingFields>>,
): TrainingAsked {
  return { cohortId, routeId, date: checkDate(date), from: dayGiven('from', from) };
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

/** The day on one route, and the training for it. Who limits what is never in them. */
export function tripPlanResource(app: App, { context }: ResourceDeps): void {
  app.get(
    '/v1/cohorts/:id/routes/:routeId/trip-plan',
    {
      config: { produces: ANSWERS },
      ...operation(
        'plans',
        'getTripPlan',
        'The trip plan of one route on a date: numbers, pages to print, or the line for a receiver',
        { 200: ['the plan, as Accept asks for it', 'TripPlan', [HTML_TYPE, GPX_TYPE]] },
        { params: fitParams, querystring: tripPlanQuery },
      ),
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
    operation(
      'plans',
      'getTrainingPlan',
      'The training that makes one route fit on a date',
      { 200: ['the training', 'TrainingPlan'] },
      { params: fitParams, querystring: closed(trainingFields) },
    ),
    async (request) => {
      const { units = 'metric' } = request.query;
      const { id, routeId } = request.params;
      return trainingView(await trainingFor(context, trainingAsked(id, routeId, request.query)), units);
    },
  );

  app.get(
    '/v1/cohorts/:id/ladder',
    operation(
      'plans',
      'getLadder',
      'The known routes that lead to a target on a date',
      { 200: ['the ladder', 'Ladder'] },
      { params: cohortParams, querystring: ladderQuery },
    ),
    async (request) => {
      const { target, units = 'metric' } = request.query;
      const asked = trainingAsked(request.params.id, target, request.query);
      return ladderView(await ladderTo(context, asked), units);
    },
  );
}
