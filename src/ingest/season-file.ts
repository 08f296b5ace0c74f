import Type from 'typebox';
import { Compile } from 'typebox/compile';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import { clearanceSchema, maybe } from './attributes.ts';
import { type CohortInput, checkCohort, cohortSchema, faultError, pathBeside } from './cohort-file.ts';
import { parseJson } from './json-text.ts';
import { tidyText } from './names.ts';
import { quote } from './quote.ts';
import { schemaFault } from './schema-fault.ts';
import { checkSideFileLength } from './side-file.ts';

const date = Type.String({
  pattern: '^[0-9]{4}-[0-9]{2}-[0-9]{2}$',
  description: 'a day in quotes such as "2026-07-11"',
});

const name = Type.String({ minLength: 1, maxLength: 200, description: 'a name in quotes' });

/** A vehicle of the program that any cohort may have for a day. */
const poolVehicle = Type.Object(
  {
    name: maybe(name),
    seats: Type.Integer({ minimum: 1, maximum: 100 }),
    clearance: clearanceSchema,
  },
  { additionalProperties: false },
);

/** What a trailhead, or the office that gives a permit, allows: beside what the routes state, the stricter counts. */
const seasonLimit = Type.Object(
  {
    trailhead: maybe(name),
    who: maybe(name),
    partiesPerDay: maybe(Type.Integer({ minimum: 0, maximum: 10_000 })),
    groupSizeLimit: maybe(Type.Integer({ minimum: 1, maximum: 1000 })),
    parkingSpaces: maybe(Type.Integer({ minimum: 0, maximum: 10_000 })),
  },
  { additionalProperties: false },
);

const shared = {
  name: maybe(name),
  dates: Type.Array(date, { minItems: 1, maxItems: 100, uniqueItems: true }),
  // Missing or null: every cohort rides in its own.
  vehicles: maybe(Type.Array(poolVehicle, { minItems: 1, maxItems: 60 })),
  limits: maybe(Type.Array(seasonLimit, { maxItems: 500 })),
};

const entry = {
  /** Days on which it cannot go. */
  notOn: maybe(Type.Array(date, { maxItems: 100, uniqueItems: true })),
  /** Labels of leaders who can be with one cohort a day only. */
  ledBy: maybe(
    Type.Array(
      Type.String({
        pattern: '^[A-Za-z0-9_-]{1,12}$',
        description: 'a short label (1 to 12 letters, digits, "-" or "_"), never a name',
      }),
      { maxItems: 50, uniqueItems: true },
    ),
  ),
  /** It comes in the vehicles of its own file and takes none of the program’s. */
  ownVehicles: maybe(Type.Boolean()),
};

const seasonSchema = Type.Object(
  {
    ...shared,
    cohorts: Type.Array(
      Type.Object(
        {
          file: maybe(pathBeside('season file', 'cohorts/juniors.json')),
          cohort: maybe(cohortSchema),
          ...entry,
        },
        { additionalProperties: false },
      ),
      { minItems: 1, maxItems: 100 },
    ),
  },
  { additionalProperties: false },
);

/** The same for cohorts and routes that are stored. */
export const seasonRequestSchema = Type.Object(
  {
    ...shared,
    cohorts: Type.Array(
      Type.Object(
        { id: Type.String({ maxLength: 100, description: 'the id of a cohort' }), ...entry },
        { additionalProperties: false },
      ),
      { minItems: 1, maxItems: 100 },
    ),
    routes: maybe(
      Type.Array(Type.String({ maxLength: 100, description: 'the id of a route' }), {
        minItems: 1,
        maxItems: 10_000,
        uniqueItems: true,
        description: 'left out: every stored route',
      }),
    ),
  },
  { additionalProperties: false },
);

type SeasonInput = Type.Static<typeof seasonSchema>;
export type SeasonRequest = Type.Static<typeof seasonRequestSchema>;
export type SeasonLimit = Type.Static<typeof seasonLimit>;
/** What both forms state beside their cohorts. */
export type SeasonTerms = Pick<SeasonInput, keyof typeof shared>;
type SeasonEntry = Pick<SeasonInput['cohorts'][number], keyof typeof entry>;

/** A season with its cohort files read. */
export interface Season extends SeasonTerms {
  readonly cohorts: readonly (SeasonEntry & { readonly file: string | null; readonly cohort: CohortInput })[];
}

const fileValidator = Compile(seasonSchema);
const requestValidator = Compile(seasonRequestSchema);

function bad(pointer: string, text: string): EngineError {
  return new EngineError('bad-season', `The season field ${pointer} ${text}`, { pointer });
}

function checkDays(days: readonly string[] | null | undefined, pointer: string): void {
  for (const [index, day] of (days ?? []).entries()) {
    if (!isRealDate(day))
      throw bad(`${pointer}/${index}`, `is ${quote(day)}, a day that does not exist. Correct the date.`);
  }
}

function checkLimit(limit: SeasonLimit, pointer: string): void {
  const { trailhead, who, partiesPerDay, groupSizeLimit, parkingSpaces } = limit;
  if ((trailhead == null) === (who == null))
    throw bad(pointer, 'has to name either a "trailhead" or, as "who", the office that gives the permit.');
  if (partiesPerDay == null && groupSizeLimit == null && parkingSpaces == null)
    throw bad(pointer, 'limits nothing. Give "partiesPerDay", "groupSizeLimit" or "parkingSpaces".');
  if (who != null && parkingSpaces != null)
    throw bad(`${pointer}/parkingSpaces`, 'belongs to a trailhead. Name it instead of "who".');
}

function checkTerms(terms: SeasonTerms & { readonly cohorts: readonly SeasonEntry[] }): void {
  checkDays(terms.dates, '/dates');
  for (const [index, { notOn, ownVehicles }] of terms.cohorts.entries()) {
    checkDays(notOn, `/cohorts/${index}/notOn`);
    if (ownVehicles === false && terms.vehicles == null)
      throw bad(`/cohorts/${index}/ownVehicles`, 'is false, but the season states no "vehicles". Add them.');
  }
  for (const [index, limit] of (terms.limits ?? []).entries()) checkLimit(limit, `/limits/${index}`);
}

function checkOnce(names: readonly (string | null)[], pointer: (index: number) => string): void {
  for (const [index, one] of names.entries()) {
    if (one !== null && names.indexOf(one) < index)
      throw bad(pointer(index), `repeats ${quote(one)}. Write each cohort once.`);
  }
}

/**
 * Reads the text of a season file and the cohort files that it names.
 *
 * @param readCohortFile reads and checks the cohort file at a path as the season writes it
 * @throws EngineError `bad-season` (or a JSON error) with the file, the pointer and what to write instead; the errors of
 *   a cohort file, with its path.
 */
export async function readSeason(
  text: string,
  file: string,
  readCohortFile: (path: string) => Promise<CohortInput>,
): Promise<Season> {
  const season = inFile(file, () => checkedFile(text));
  const cohorts: Season['cohorts'][number][] = [];
  for (const { file: path = null, cohort = null, ...rest } of season.cohorts) {
    const read = cohort ?? (await readCohortFile(path ?? ''));
    cohorts.push({ ...rest, file: path, cohort: read });
  }
  inFile(file, () =>
    checkOnce(
      cohorts.map(({ cohort }) => cohort.name),
      (index) => `/cohorts/${index}`,
    ),
  );
  return { ...season, cohorts };
}

function inFile<T>(file: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(file) : error;
  }
}

function checkedFile(text: string): SeasonInput {
  checkSideFileLength(text);
  const value = parseJson(text.replace(/^\uFEFF/, ''), 'bad-season');
  if (!fileValidator.Check(value))
    throw faultError('bad-season', 'season', schemaFault(seasonSchema, value, ''));
  checkTerms(value);
  checkOnce(
    value.cohorts.map((one) => one.file ?? null),
    (index) => `/cohorts/${index}/file`,
  );
  const cohorts = value.cohorts.map((one, index) => {
    const pointer = `/cohorts/${index}`;
    if ((one.file == null) === (one.cohort == null))
      throw bad(pointer, 'needs either a "file" or the "cohort" itself.');
    return one.cohort == null ? one : { ...one, cohort: checkedInline(one.cohort, `${pointer}/cohort`) };
  });
  return { ...tidyText(value, ''), cohorts };
}

function checkedInline(value: unknown, pointer: string): CohortInput {
  try {
    return checkCohort(value);
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    throw new EngineError(error.code, `In the season’s ${pointer}: ${error.message}`, {
      ...error.place,
      pointer: `${pointer}${error.place.pointer ?? ''}`,
    });
  }
}

/**
 * Checks a season of stored cohorts that was parsed already.
 * @throws EngineError `bad-season`, or `bad-text`.
 */
export function checkSeasonRequest(value: unknown): SeasonRequest {
  if (!requestValidator.Check(value))
    throw faultError('bad-season', 'season', schemaFault(seasonRequestSchema, value, ''));
  checkTerms(value);
  checkOnce(
    value.cohorts.map(({ id }) => id),
    (index) => `/cohorts/${index}/id`,
  );
  return tidyText(value, '');
}
