/** What the API answers, as schemas: the OpenAPI document shows them and the tests hold the answers to them. */
import Type from 'typebox';
import { MOST_KNOWN } from '../app/plans.ts';
import { designSchema } from '../design.ts';
import { tripPlanSchema } from '../document/trip-plan-view.ts';
import { routeAttributesSchema } from '../ingest/attributes.ts';
import { cohortSchema, outingSchema } from '../ingest/cohort-file.ts';
import { seasonRequestSchema } from '../ingest/season-file.ts';
import { whatIfSchema } from '../ingest/what-if.ts';
import { closed, LABEL, list, named, oneOf, text } from '../schema.ts';
import { predictionRecordSchema } from '../views/after-view.ts';
import { daySchema, momentSchema } from '../views/day-view.ts';
import { measuresSchema } from '../views/measures-view.ts';
import { readinessSchema } from '../views/readiness-view.ts';
import { seasonSchema } from '../views/season-view.ts';
import {
  fitEntrySchema,
  fitSchema,
  noteSchema,
  shortlistSchema,
  whatIfShortlistSchema,
} from '../views/shortlist-view.ts';
import { ladderSchema, trainingPlanSchema } from '../views/training-view.ts';
import { JSON_TYPE } from './media.ts';
import { PROBLEM_TYPE, problemSchema } from './problem.ts';
import {
  cohortChangeSchema,
  cohortExportSchema,
  keptCohortSchema,
  keptOutingSchema,
  outingRecordSchema,
  profileSchema,
  routeSchema,
} from './views.ts';

const routes = list(named('Route', routeSchema));

const status = closed({ status: Type.Literal('ok') });
const readiness = closed({
  status: oneOf(['ok', 'degraded']),
  damagedTiles: Type.Integer({
    minimum: 0,
    description: 'elevation tiles that could not be read in part when they were last asked for',
  }),
});

const KNOWN = `the stored routes that were looked through are those of the ${MOST_KNOWN} trailheads nearest to the meeting place (without one: to this route’s trailhead)`;

export const COMPONENTS = {
  Problem: problemSchema,
  Note: noteSchema,
  RouteAttributes: routeAttributesSchema,
  Measures: measuresSchema,
  Route: routeSchema,
  Routes: closed({ routes }),
  SentRoutes: closed({
    routes,
    warnings: list(named('Note', noteSchema), {
      description: 'what was repaired, left out or wants looking at',
    }),
  }),
  Profile: profileSchema,
  CohortInput: cohortSchema,
  CohortChange: cohortChangeSchema,
  Cohort: keptCohortSchema,
  Cohorts: closed({ cohorts: list(named('Cohort', keptCohortSchema)) }),
  OutingInput: outingSchema,
  Outing: keptOutingSchema,
  Outings: closed({ outings: list(named('Outing', keptOutingSchema)) }),
  OutingRecord: outingRecordSchema,
  CohortExport: cohortExportSchema,
  Moment: momentSchema,
  Day: daySchema,
  Shortlist: shortlistSchema,
  WhatIf: whatIfSchema,
  WhatIfShortlist: whatIfShortlistSchema,
  FitEntry: fitEntrySchema,
  Fit: fitSchema,
  TripPlan: {
    ...tripPlanSchema,
    description: `the chosen route as a day; null: the heights under its line are not all known. For the lower choice and for training ${KNOWN}`,
  },
  TrainingPlan: {
    ...trainingPlanSchema,
    description: `the training that turns the route into one that fits; ${KNOWN}`,
  },
  Ladder: {
    ...ladderSchema,
    description: `the shortest sequence of known routes that leads to the target; ${KNOWN}`,
  },
  SeasonRequest: seasonRequestSchema,
  SeasonBoard: seasonSchema,
  Shown: closed({
    ...readinessSchema.properties,
    record: named('PredictionRecord', predictionRecordSchema),
  }),
  PredictionRecord: predictionRecordSchema,
  Settings: designSchema,
  Status: status,
  Readiness: readiness,
  Openapi: Type.Object({}, { additionalProperties: true }),
} satisfies Record<string, Type.TSchema>;

export type ComponentName = keyof typeof COMPONENTS;

export const jsonOf = (name: ComponentName, mediaType = 'application/json') => ({
  [mediaType]: { schema: { $ref: `${name}#` } },
});

const problemAnswer = {
  description: 'a problem document (RFC 9457)',
  content: jsonOf('Problem', PROBLEM_TYPE),
};

/** What a status answers: words, the JSON or `null`, and the media types of answers that are no JSON. */
type Good = readonly [string, ComponentName | null, (readonly string[])?];

type Tag = 'routes' | 'cohorts' | 'outings' | 'plans' | 'shortlist' | 'season' | 'service';

/** An address as the document has it: what it takes, and what it answers beside problem documents. */
export function operation<S extends object = object>(
  tag: Tag,
  operationId: string,
  summary: string,
  good: Readonly<Record<number, Good>>,
  schema?: S,
) {
  const described = Object.entries(good).map(([code, [description, name, others = []]]) => {
    if (name === null && others.length === 0) return [code, { description, type: 'null' }];
    const texts = Object.fromEntries(others.map((type) => [type, { schema: text }]));
    return [code, { description, content: { ...(name === null ? {} : jsonOf(name)), ...texts } }];
  });
  const response = { ...Object.fromEntries(described), '4xx': problemAnswer, '5xx': problemAnswer };
  return { schema: { operationId, summary, tags: [tag], ...(schema ?? ({} as S)), response } };
}

/** The same where a body in JSON is taken. */
export const taking = <O extends { readonly schema: object }>(name: ComponentName, { schema }: O) => ({
  config: { consumes: [JSON_TYPE] },
  schema: { ...(schema as O['schema']), body: { content: jsonOf(name) } },
});

export const UNCHANGED: Good = ['not changed', null];

const id = (prefix: string) =>
  Type.String({ pattern: `^${prefix}_[A-Za-z0-9_-]{22}$`, description: 'an id as the service gave it' });

export const routeParams = closed({ id: id('rt') });
export const cohortParams = closed({ id: id('co') });
export const memberParams = closed({
  id: id('co'),
  label: Type.String({ pattern: LABEL, description: 'a label of the cohort' }),
});
export const outingParams = closed({ id: id('co'), outingId: id('ou') });
export const fitParams = closed({ id: id('co'), routeId: id('rt') });

export const DEFAULT_LIMIT = 20;
export const MOST_LIMIT = 100;

export const pageQuery = {
  limit: Type.Optional(
    Type.Integer({
      minimum: 1,
      default: DEFAULT_LIMIT,
      description: `a whole number from 1; at most ${MOST_LIMIT} are given`,
    }),
  ),
  cursor: Type.Optional(
    Type.String({
      pattern: '^[A-Za-z0-9_-]{1,300}\\.[A-Za-z0-9_-]{1,50}$',
      description: 'a cursor from the Link header of a page',
    }),
  ),
};

export const dateQuery = {
  date: Type.String({ maxLength: 40, description: 'a day such as 2026-07-11' }),
};

/** A day that may be left out; checked by its reader, as `date` is. */
export const dayParameter = (description: string) =>
  Type.Optional(Type.String({ maxLength: 40, description }));

export const unitsQuery = {
  units: Type.Optional(
    oneOf(['metric', 'us'], {
      default: 'metric',
      description: 'of the words in reasons; numbers are metres and minutes always',
    }),
  ),
};

/** Declared so that generated clients send it; whether it is there and matches is checked in `conditional.ts`. */
export const ifMatchHeader = Type.Object({
  'if-match': Type.Optional(
    Type.String({
      description: 'needed: the ETag that was seen; 428 without it, 412 where it no longer holds',
    }),
  ),
});
