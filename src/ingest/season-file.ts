import Type from 'typebox';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError, inFileSync } from '../errors.ts';
import { message } from '../message.ts';
import { closed, DAY, maybe } from '../schema.ts';
import { clearanceSchema } from './attributes.ts';
import { type CohortInput, checkCohort, cohortSchema, labelSchema, relativePath } from './cohort-file.ts';
import { tidyText } from './names.ts';
import { quote } from './quote.ts';
import { inQuotes } from './schema-fault.ts';
import { Faults, type ShapeRules, shapeCheck } from './shape.ts';
import { readSideFile } from './side-file.ts';

/** Dates and cohorts of one board at most (design). */
export const MOST_DATES = 100;
export const MOST_COHORTS = 100;

const date = Type.String({ pattern: DAY, ...inQuotes('a day', '"2026-07-11"') });

const name = Type.String({ minLength: 1, maxLength: 200, description: 'a name in quotes' });

/** A vehicle of the program that any cohort may have for a day. */
const poolVehicle = closed({
  name: maybe(name),
  seats: Type.Integer({ minimum: 1, maximum: 100 }),
  clearance: clearanceSchema,
});

/** What a trailhead, or the office that gives a permit, allows: beside what the routes state, the stricter counts. */
const seasonLimit = closed({
  trailhead: maybe(name),
  who: maybe(name),
  partiesPerDay: maybe(Type.Integer({ minimum: 0, maximum: 10_000 })),
  groupSizeLimit: maybe(Type.Integer({ minimum: 1, maximum: 1000 })),
  parkingSpaces: maybe(Type.Integer({ minimum: 0, maximum: 10_000 })),
});

const shared = {
  name: maybe(name),
  dates: Type.Array(date, { minItems: 1, maxItems: MOST_DATES, uniqueItems: true }),
  // Missing or null: every cohort rides in its own.
  vehicles: maybe(Type.Array(poolVehicle, { minItems: 1, maxItems: 60 })),
  limits: maybe(Type.Array(seasonLimit, { maxItems: 500 })),
};

const entry = {
  /** Days on which it cannot go. */
  notOn: maybe(Type.Array(date, { maxItems: 100, uniqueItems: true })),
  /** Labels of leaders who can be with one cohort a day only. */
  ledBy: maybe(Type.Array(labelSchema, { maxItems: 50, uniqueItems: true })),
  /** It comes in the vehicles of its own file and takes none of the program’s. */
  ownVehicles: maybe(Type.Boolean()),
};

const seasonSchema = closed({
  ...shared,
  cohorts: Type.Array(
    closed({
      file: maybe(relativePath('season file', 'cohorts/juniors.json')),
      cohort: maybe(cohortSchema),
      ...entry,
    }),
    { minItems: 1, maxItems: MOST_COHORTS },
  ),
});

/** The same for cohorts and routes that are stored. */
export const seasonRequestSchema = closed({
  ...shared,
  cohorts: Type.Array(
    closed({ id: Type.String({ maxLength: 100, description: 'the id of a cohort' }), ...entry }),
    { minItems: 1, maxItems: MOST_COHORTS },
  ),
  routes: maybe(
    Type.Array(Type.String({ maxLength: 100, description: 'the id of a route' }), {
      minItems: 1,
      maxItems: 10_000,
      uniqueItems: true,
      description: 'left out: every stored route',
    }),
  ),
});

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

/** What the errors of a season are called. */
export const SEASON = {
  code: 'bad-season',
  field: 'The season field',
  whole: 'The whole of the season',
} as const;
const fileShape = shapeCheck(seasonSchema, SEASON);
const requestShape = shapeCheck(seasonRequestSchema, SEASON);

function dayRules(days: readonly string[] | null | undefined, pointer: string, faults: Faults): void {
  for (const [day, at] of faults.items(pointer, days)) {
    if (!isRealDate(day))
      faults.addAt(at, message`is ${quote(day)}, a day that does not exist. Correct the date.`);
  }
}

function limitRules(limit: SeasonLimit, pointer: string, faults: Faults): void {
  const { trailhead, who, partiesPerDay, groupSizeLimit, parkingSpaces } = limit;
  if ((trailhead == null) === (who == null))
    faults.addAt(pointer, 'has to name either a "trailhead" or, as "who", the office that gives the permit.');
  if (partiesPerDay == null && groupSizeLimit == null && parkingSpaces == null)
    faults.addAt(pointer, 'limits nothing. Give "partiesPerDay", "groupSizeLimit" or "parkingSpaces".');
  if (who != null && parkingSpaces != null)
    faults.addAt(`${pointer}/parkingSpaces`, 'belongs to a trailhead. Name it instead of "who".');
}

function termRules(terms: SeasonTerms & { readonly cohorts: readonly SeasonEntry[] }, faults: Faults): void {
  dayRules(terms.dates, '/dates', faults);
  for (const [{ notOn, ownVehicles }, at] of faults.items('/cohorts', terms.cohorts)) {
    dayRules(notOn, `${at}/notOn`, faults);
    if (ownVehicles === false && terms.vehicles == null)
      faults.addAt(`${at}/ownVehicles`, 'is false, but the season states no "vehicles". Add them.');
  }
  for (const [limit, at] of faults.items('/limits', terms.limits)) limitRules(limit, at, faults);
}

/** @param names each with its pointer */
function onceRule(names: Iterable<readonly [string | null | undefined, string]>, faults: Faults): void {
  const seen = new Set<string>();
  for (const [name, at] of names) {
    if (name == null) continue;
    if (seen.has(name)) faults.addAt(at, message`repeats ${quote(name)}. Write each cohort once.`);
    seen.add(name);
  }
}

/** A field of each cohort with its pointer; nothing where it is not sound. */
function* ofEach<T, K extends string & keyof T>(cohorts: readonly T[], field: K, faults: Faults) {
  for (const [cohort, at] of faults.items('/cohorts', cohorts))
    yield [faults.sound(`${at}/${field}`, cohort[field]), `${at}/${field}`] as const;
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
  const season = readSideFile(text, file, 'bad-season', checkedFile);
  const cohorts: Season['cohorts'][number][] = [];
  for (const { file: path = null, cohort = null, ...rest } of season.cohorts) {
    const read = cohort ?? (await readCohortFile(path ?? ''));
    cohorts.push({ ...rest, file: path, cohort: read });
  }
  const faults = new Faults(SEASON);
  onceRule(
    cohorts.map(({ cohort }, index) => [cohort.name, `/cohorts/${index}`]),
    faults,
  );
  inFileSync(file, () => faults.throwAny());
  return { ...season, cohorts };
}

function checkedFile(value: unknown): SeasonInput {
  const inline = new Map<string, CohortInput>();
  const season = fileShape(value, '', (terms, faults) => {
    termRules(terms, faults);
    onceRule(ofEach(terms.cohorts, 'file', faults), faults);
    for (const [{ file, cohort }, at] of faults.items('/cohorts', terms.cohorts)) {
      if ((file == null) === (cohort == null))
        faults.addAt(at, 'needs either a "file" or the "cohort" itself.');
      else if (cohort != null && faults.sound(`${at}/cohort`, cohort) !== undefined) {
        faults.from(
          () => inline.set(at, checkCohort(cohort)),
          (fault) => inSeason(fault, `${at}/cohort`),
        );
      }
    }
  });
  const cohorts = season.cohorts.map((one, index) => {
    const cohort = inline.get(`/cohorts/${index}`);
    return cohort === undefined ? one : { ...one, cohort };
  });
  return { ...tidyText(season, ''), cohorts };
}

const inSeason = ({ code, reason, place }: EngineError, pointer: string): EngineError =>
  new EngineError(code, message`In the season’s ${pointer}: ${reason}`, {
    ...place,
    pointer: `${pointer}${place.pointer ?? ''}`,
  });

/**
 * Checks a season of stored cohorts that was parsed already.
 *
 * @param more rules that rest on more than the season itself
 * @throws EngineError `bad-season`, or `bad-text`.
 */
export function checkSeasonRequest(
  value: unknown,
  more: ShapeRules<SeasonRequest> = () => {},
): SeasonRequest {
  const request = requestShape(value, '', (asked, faults, at) => {
    termRules(asked, faults);
    onceRule(ofEach(asked.cohorts, 'id', faults), faults);
    more(asked, faults, at);
  });
  return tidyText(request, '');
}
