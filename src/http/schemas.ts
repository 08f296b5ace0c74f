/** What the API answers, as schemas: the OpenAPI document shows them and the tests hold the answers to them. */
import Type from 'typebox';
import { designSchema } from '../design.ts';
import { routeAttributesSchema } from '../ingest/attributes.ts';
import { cohortSchema, outingSchema } from '../ingest/cohort-file.ts';
import { seasonRequestSchema } from '../ingest/season-file.ts';
import { whatIfSchema } from '../ingest/what-if.ts';
import { CRITERION_NAMES } from '../rank/criterion.ts';
import { VERDICTS } from '../rank/verdict.ts';
import { ladder, trainingPlan, tripPlan } from './plan-schemas.ts';
import { PROBLEM_TYPE } from './problem.ts';
import {
  attribution,
  closed,
  instant,
  number,
  numberOrNull,
  oneOf,
  orNull,
  ref,
  text,
} from './schema-parts.ts';
import { seasonBoardSchema } from './season-schemas.ts';

const note = closed({ code: text, text });
const band = closed({ value: number, low: number, high: number });
const interval = closed({ low: number, high: number });
const place = { lat: number, lon: number, elevationM: numberOrNull };

const measuresView = closed({
  distanceM: number,
  gainM: orNull(band),
  lossM: orNull(band),
  highM: numberOrNull,
  lowM: numberOrNull,
  shape: oneOf(['outAndBack', 'loop', 'oneWay']),
  aboveTreelineM: numberOrNull,
  aboveTreelineMin: numberOrNull,
  aboveTreelineRangeM: orNull(interval),
  aboveTreelineRangeMin: orNull(interval),
  treelineM: numberOrNull,
  treelineSource: oneOf(['route', 'program', 'region', 'unknown']),
  steepestSustainedRatio: numberOrNull,
  steepestSustainedFromM: numberOrNull,
  steepGround: orNull(
    closed({
      stretches: Type.Array(
        closed({
          fromM: number,
          toM: number,
          onDeg: numberOrNull,
          besideDeg: numberOrNull,
          aboveDeg: numberOrNull,
        }),
      ),
      fromDeg: number,
      steepest50Deg: numberOrNull,
      steepest50AtM: numberOrNull,
      knownShare: number,
    }),
  ),
  recorded: orNull(closed({ gainM: number, lossM: number })),
  demCoverage: number,
  distanceMethod: text,
  gainMethod: text,
});

const kept = { id: text, revision: Type.Integer({ minimum: 1 }), createdAt: instant, updatedAt: instant };

const routeView = closed({
  ...kept,
  name: text,
  attributes: ref('RouteAttributes'),
  measures: ref('Measures'),
  trailhead: closed(place),
  high: orNull(closed({ ...place, distanceM: number })),
  sources: Type.Array(
    closed({
      tile: text,
      postingM: Type.Union([number, Type.Null()], { description: 'distance between two heights, metres' }),
      date: Type.Union([text, Type.Null()], {
        description: 'when the heights were published; null: not stated',
      }),
      version: orNull(text),
      share: number,
      spansM: Type.Array(Type.Array(number, { minItems: 2, maxItems: 2 }), {
        description: 'from and to along the route, metres',
      }),
      attribution,
    }),
    { description: 'the elevation tiles under the route' },
  ),
  notes: Type.Array(ref('Note')),
});

const routeList = closed({ routes: Type.Array(ref('Route')) });

const sentRoutes = closed({
  routes: Type.Array(ref('Route')),
  warnings: Type.Array(ref('Note'), { description: 'what was repaired, left out or wants looking at' }),
});

const profileView = closed({
  id: text,
  name: text,
  profile: Type.Array(Type.Array(numberOrNull, { minItems: 2, maxItems: 2 }), {
    description: 'metres along the route, and height of the ground in metres or null',
  }),
  attribution,
});

const { outings: _, ...cohortFields } = cohortSchema.properties;

const cohortKept = {
  ...kept,
  eraseAfter: Type.String({ description: 'the day after which its data are erased; a later trip moves it' }),
};

const cohortView = closed({ ...cohortKept, ...cohortFields });

/** A cohort as GET gives it may be sent back; what the store keeps itself is not read. */
const cohortChange = closed({
  ...cohortFields,
  ...Type.Partial(Type.Object(cohortKept)).properties,
});

export const STORE_FIELDS: readonly string[] = Object.keys(cohortKept);

const cohortList = closed({ cohorts: Type.Array(ref('Cohort')) });

const plannedAndActualMin = closed({ plannedMin: number, actualMin: numberOrNull });
const deadlineOutcome = oneOf(['inTime', 'late', 'neverAbove', 'notKnown']);
const farthest = orNull(closed({ name: text, kind: text }));

const plannedView = closed(
  {
    routeId: text,
    date: text,
    zone: text,
    isOnRoute: Type.Boolean(),
    start: closed({ planned: instant, actual: orNull(instant), lateMin: numberOrNull }),
    checkpoints: Type.Array(
      closed({
        name: text,
        kind: text,
        distanceM: number,
        goingUp: Type.Boolean(),
        planned: ref('Moment'),
        passed: orNull(instant),
        lateMin: numberOrNull,
        lateSinceStartMin: numberOrNull,
        isInside: orNull(Type.Boolean()),
        cutOff: orNull(instant),
        isByCutOff: orNull(Type.Boolean()),
      }),
    ),
    highestReached: farthest,
    turnedBack: orNull(Type.Boolean()),
    turned: orNull(instant),
    belowTreeline: closed({ deadline: instant, passed: orNull(instant), outcome: deadlineOutcome }),
    isWholeRoute: Type.Boolean(),
    moving: plannedAndActualMin,
    standing: plannedAndActualMin,
  },
  'the plan of the day, made from the outings before it, beside the recording; null: not passed or not recorded',
);

/** The same as it is stored: times in ms since 1970. */
const plannedRecord = closed({
  routeId: text,
  date: text,
  zone: text,
  isOnRoute: Type.Boolean(),
  start: closed({ plannedMs: number, actualMs: numberOrNull, lateMin: numberOrNull }),
  checkpoints: Type.Array(
    closed({
      name: text,
      kind: text,
      distanceM: number,
      goingUp: Type.Boolean(),
      planned: closed({ p10Ms: number, p50Ms: number, p90Ms: number }),
      passedMs: numberOrNull,
      lateMin: numberOrNull,
      lateSinceStartMin: numberOrNull,
      isInside: orNull(Type.Boolean()),
      cutOffMs: numberOrNull,
      isByCutOff: orNull(Type.Boolean()),
    }),
  ),
  highestReached: farthest,
  turnedBack: orNull(Type.Boolean()),
  turnedMs: numberOrNull,
  belowTreeline: closed({ deadlineMs: number, passedMs: numberOrNull, outcome: deadlineOutcome }),
  isWholeRoute: Type.Boolean(),
  moving: plannedAndActualMin,
  standing: plannedAndActualMin,
});

const outingView = closed({
  id: text,
  createdAt: instant,
  date: text,
  source: oneOf(['track', 'hand']),
  distanceM: number,
  gainM: numberOrNull,
  lossM: numberOrNull,
  maxElevationM: numberOrNull,
  movingMin: numberOrNull,
  standingMin: numberOrNull,
  rockClass: orNull(text),
  members: orNull(Type.Array(text)),
  turnedBecause: orNull(text),
  nearMisses: Type.Array(text),
  planned: orNull(plannedView),
  notes: Type.Array(ref('Note')),
  attribution,
});

const outingList = closed({ outings: Type.Array(ref('Outing')) });

const quantities = closed({ upKm: number, upM: number, downKm: number, downM: number });

const outingRecord = closed(
  {
    id: text,
    createdAt: instant,
    date: text,
    source: oneOf(['track', 'hand']),
    distanceM: number,
    gainM: numberOrNull,
    gainHighM: numberOrNull,
    highM: numberOrNull,
    rockClass: orNull(text),
    members: orNull(Type.Array(text)),
    quantities: orNull(quantities),
    parts: Type.Array(closed({ quantities, movingMin: number })),
    movingMin: numberOrNull,
    standingMin: numberOrNull,
    climbElevationM: numberOrNull,
    // Outings that an older program stored do not have them.
    clockFromMs: Type.Optional(numberOrNull),
    clockToMs: Type.Optional(numberOrNull),
    // Only where something was told, or a plan compared.
    turnedBecause: Type.Optional(text),
    nearMisses: Type.Optional(Type.Array(text)),
    planned: Type.Optional(plannedRecord),
    attribution: Type.Optional(attribution),
    notes: Type.Array(ref('Note')),
  },
  'an outing as it is stored; times in ms since 1970',
);

const cohortExport = closed({
  cohort: closed({
    ...cohortKept,
    lastTripDate: Type.String({ description: 'the latest day that it walked, asked about or was stored' }),
    ...cohortFields,
  }),
  outings: Type.Array(ref('OutingRecord')),
});

const moment = closed({ p10: instant, p50: instant, p90: instant });

const day = closed({
  zone: text,
  start: instant,
  earliestStart: instant,
  latestStart: orNull(instant),
  deadline: instant,
  usualDeadline: instant,
  probabilityBelowTreelineByDeadline: numberOrNull,
  aboveTreeline: orNull(ref('Moment')),
  summit: orNull(ref('Moment')),
  belowTreeline: orNull(ref('Moment')),
  trailhead: orNull(ref('Moment')),
  movingMin: number,
  slowing: closed({ ground: number, altitude: number }),
  rules: Type.Array(closed({ name: text, source: text, movingMin: number })),
  civilDawn: orNull(instant),
  civilDusk: orNull(instant),
});

const verdict = oneOf(VERDICTS);

const entry = {
  id: text,
  name: text,
  verdict,
  score: number,
  firstShare: orNull(number),
  rankLow: orNull(Type.Integer({ minimum: 1 })),
  rankHigh: orNull(Type.Integer({ minimum: 1 })),
  measures: ref('Measures'),
  criteria: Type.Array(
    closed({
      name: oneOf(CRITERION_NAMES),
      demand: numberOrNull,
      capacity: numberOrNull,
      unit: text,
      headroom: numberOrNull,
      value: numberOrNull,
      verdict,
      weight: number,
      factor: number,
      reason: text,
    }),
  ),
  day: orNull(ref('Day')),
  gap: Type.Array(
    closed({
      criterion: oneOf(CRITERION_NAMES),
      need: Type.Record(Type.String(), Type.Union([number, text])),
      text,
    }),
  ),
  leastOuting: orNull(
    closed(
      {
        distanceM: number,
        gainM: number,
        rockClass: orNull(text),
        steps: Type.Array(closed({ distanceM: number, gainM: number })),
        leaves: Type.Array(oneOf(CRITERION_NAMES)),
        text,
      },
      'the least outing on the date that makes what training changes fit, and what it leaves',
    ),
  ),
  milestones: Type.Array(
    closed({ name: oneOf(['distanceDay', 'gainDay', 'bothDay']), done: Type.Boolean(), date: orNull(text) }),
  ),
  toCheck: Type.Array(text),
  notes: Type.Array(ref('Note')),
  attribution,
};

const ranking = {
  cohort: closed({ id: text, name: text }),
  date: text,
  method: closed({ version: text, settings: text }),
  meaning: text,
  cautions: Type.Array(text),
  order: orNull(
    closed({
      draws: Type.Integer({ minimum: 1 }),
      clearWinner: orNull(Type.Boolean()),
      level: Type.Array(closed({ from: Type.Integer({ minimum: 1 }), to: Type.Integer({ minimum: 1 }) })),
    }),
  ),
  attribution,
};

const shortlist = closed({
  ...ranking,
  routes: Type.Array(closed({ rank: Type.Integer({ minimum: 1 }), ...entry })),
});

const stand = closed({ rank: Type.Integer({ minimum: 1 }), verdict, score: number });

const whatIfShortlist = closed({
  ...shortlist.properties,
  moved: Type.Array(
    closed({
      id: text,
      name: text,
      from: stand,
      to: stand,
      criteria: Type.Array(closed({ name: oneOf(CRITERION_NAMES), from: verdict, to: verdict })),
    }),
    {
      description:
        'routes of the whole ranking whose own verdict or score is another, and which criteria did it',
    },
  ),
});

const fitEntry = closed({
  rank: Type.Null({ description: 'known among all routes only: see the shortlist' }),
  ...entry,
});

const fitView = closed({ ...ranking, route: ref('FitEntry') });

const shownQuantity = orNull(
  closed({ value: number, asWalked: number, date: text, daysBefore: Type.Integer() }),
);

const shown = closed({
  cohort: closed({ name: text }),
  date: text,
  distanceM: shownQuantity,
  gainM: shownQuantity,
  effortKj: shownQuantity,
  rockClass: orNull(text),
  highestM: numberOrNull,
  limits: Type.Array(
    closed({
      quantity: oneOf(['distanceM', 'gainM', 'effortKj', 'rockClass']),
      labels: Type.Array(text),
      text,
    }),
  ),
  pace: closed({
    clockedOutings: Type.Integer(),
    upOfPrior: number,
    downOfPrior: number,
    upPriorSd: number,
    downPriorSd: number,
    relativeWidth: number,
    strongestPull: orNull(closed({ date: text, share: number })),
    condition: numberOrNull,
    isWellConditioned: Type.Boolean(),
    sharpenBy: closed({ distanceM: number, gainM: number, narrowsBy: number, text }),
  }),
  stopsMinPerHour: number,
  trainingElevationM: number,
  detraining: designSchema.properties.detraining,
  toCheck: Type.Array(text),
  attribution,
  record: ref('PredictionRecord'),
});

const share = closed({ value: number, low: number, high: number });

const predictionRecord = closed(
  {
    rows: Type.Array(
      closed({
        date: text,
        outingsBefore: Type.Integer(),
        predictedMin: closed({ p10: number, p50: number, p90: number }),
        tookMin: number,
        inside80: Type.Boolean(),
        ratio: number,
      }),
    ),
    n: Type.Integer(),
    inside80: Type.Integer(),
    coverage: orNull(share),
    laterThanP90: Type.Integer(),
    medianErrorMin: numberOrNull,
    medianRatio: numberOrNull,
    tendency: orNull(oneOf(['slower', 'faster', 'asPredicted'])),
    text,
  },
  'moving times of the year up to the date, each predicted from the days before it, against what they took',
);

const status = closed({ status: Type.Literal('ok') });
const readiness = closed({
  status: oneOf(['ok', 'degraded']),
  damagedTiles: Type.Integer({
    minimum: 0,
    description: 'elevation tiles that could not be read in part when they were last asked for',
  }),
});

const problem = closed({
  type: text,
  title: text,
  status: Type.Integer(),
  detail: text,
  instance: text,
  code: text,
  errors: Type.Array(
    Type.Object({
      detail: text,
      pointer: Type.Optional(text),
      parameter: Type.Optional(text),
      file: Type.Optional(text),
      line: Type.Optional(Type.Integer()),
      column: Type.Optional(Type.Integer()),
      byteOffset: Type.Optional(Type.Integer()),
      limit: Type.Optional(number),
      found: Type.Optional(number),
    }),
  ),
});

/** The named schemas of the OpenAPI document. */
export const COMPONENTS = {
  Problem: problem,
  Note: note,
  RouteAttributes: routeAttributesSchema,
  Measures: measuresView,
  Route: routeView,
  Routes: routeList,
  SentRoutes: sentRoutes,
  Profile: profileView,
  CohortInput: cohortSchema,
  CohortChange: cohortChange,
  Cohort: cohortView,
  Cohorts: cohortList,
  OutingInput: outingSchema,
  Outing: outingView,
  Outings: outingList,
  OutingRecord: outingRecord,
  CohortExport: cohortExport,
  Moment: moment,
  Day: day,
  Shortlist: shortlist,
  WhatIf: whatIfSchema,
  WhatIfShortlist: whatIfShortlist,
  FitEntry: fitEntry,
  Fit: fitView,
  TripPlan: tripPlan,
  TrainingPlan: trainingPlan,
  Ladder: ladder,
  SeasonRequest: seasonRequestSchema,
  SeasonBoard: seasonBoardSchema,
  Shown: shown,
  PredictionRecord: predictionRecord,
  Settings: designSchema,
  Status: status,
  Readiness: readiness,
  Openapi: Type.Object({}, { additionalProperties: true }),
} satisfies Record<string, Type.TSchema>;

export type ComponentName = keyof typeof COMPONENTS;

/** A body or an answer in JSON. */
export const jsonOf = (name: ComponentName, mediaType = 'application/json') => ({
  [mediaType]: { schema: ref(name) },
});

type Answers = Readonly<Record<string, unknown>>;

const problemAnswer = {
  description: 'a problem document (RFC 9457)',
  content: jsonOf('Problem', PROBLEM_TYPE),
};

/** What a status answers: words, the JSON or `null`, and the media types of answers that are no JSON. */
type Good = readonly [string, ComponentName | null, (readonly string[])?];

/** The `response` of a route: what it answers, and problem documents for everything else. */
export function answers(good: Readonly<Record<number, Good>>): Answers {
  const described = Object.entries(good).map(([code, [description, name, others = []]]) => {
    if (name === null && others.length === 0) return [code, { description, type: 'null' }];
    const texts = Object.fromEntries(others.map((type) => [type, { schema: text }]));
    return [code, { description, content: { ...(name === null ? {} : jsonOf(name)), ...texts } }];
  });
  return { ...Object.fromEntries(described), '4xx': problemAnswer, '5xx': problemAnswer };
}

const id = (prefix: string) =>
  Type.String({ pattern: `^${prefix}_[A-Za-z0-9_-]{22}$`, description: 'an id as the service gave it' });

export const routeParams = closed({ id: id('rt') });
export const cohortParams = closed({ id: id('co') });
export const memberParams = closed({
  id: id('co'),
  label: Type.String({ pattern: '^[A-Za-z0-9_-]{1,12}$', description: 'a label of the cohort' }),
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
    Type.Union([Type.Literal('metric'), Type.Literal('us')], {
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
