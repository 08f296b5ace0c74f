import Type from 'typebox';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { CLOCK, closed, DAY, LABEL, maybe, oneOf } from '../schema.ts';
import { clearanceSchema, rockClassSchema } from './attributes.ts';
import { tidyText } from './names.ts';
import { quote } from './quote.ts';
import { inQuotes } from './schema-fault.ts';
import { type Faults, shapeCheck } from './shape.ts';
import { readSideFile } from './side-file.ts';

/** Of a participant or a leader. */
export const labelSchema = Type.String({
  pattern: LABEL,
  description: 'a short label (1 to 12 letters, digits, "-" or "_"), never a name',
});
const labels = Type.Array(labelSchema, { maxItems: 500, uniqueItems: true });

const clock = Type.String({ pattern: CLOCK, ...inQuotes('a time of day', '"04:30"') });

/** A path that a file names another by. */
export const relativePath = (file: string, example: string) =>
  Type.String({
    minLength: 1,
    maxLength: 500,
    // No drive, scheme, root or backslash.
    pattern: '^(?![/\\\\])(?![A-Za-z][A-Za-z0-9+.-]*:)[^\\\\\\u0000-\\u001f]*$',
    description: `a path relative to the ${file}, such as "${example}"`,
  });

/**
 * A day that the cohort, or some of it, has walked: a track with a clock, or a record entered by
 * hand. Distances in metres, times in minutes; beside the date, missing and `null` both mean "not known".
 */
export const outingSchema = closed({
  // Required: what was shown fades with time, so an undated day shows nothing.
  date: Type.String({ pattern: DAY, ...inQuotes('a day', '"2026-06-20"') }),
  track: maybe(relativePath('cohort file', 'walks/river.gpx')),
  distanceM: maybe(Type.Number({ minimum: 0, maximum: 500_000 })),
  distanceKm: maybe(Type.Number({ minimum: 0, maximum: 500 })),
  distanceMi: maybe(Type.Number({ minimum: 0, maximum: 300 })),
  gainM: maybe(Type.Number({ minimum: 0, maximum: 30_000 })),
  gainFt: maybe(Type.Number({ minimum: 0, maximum: 100_000 })),
  repeats: maybe(
    closed(
      {
        heightM: maybe(Type.Number({ minimum: 1, maximum: 2000 })),
        heightFt: maybe(Type.Number({ minimum: 3, maximum: 6500 })),
        times: Type.Integer({ minimum: 1, maximum: 1000 }),
        lengthM: maybe(Type.Number({ minimum: 1, maximum: 20_000, description: 'one way, on the plan' })),
      },
      'a hill or stair of some height, climbed some times',
    ),
  ),
  lossM: maybe(Type.Number({ minimum: 0, maximum: 30_000 })),
  movingMin: maybe(Type.Number({ minimum: 0, maximum: 10_000 })),
  standingMin: maybe(Type.Number({ minimum: 0, maximum: 10_000 })),
  maxElevationM: maybe(Type.Number({ minimum: -430, maximum: 9000 })),
  maxElevationFt: maybe(Type.Number({ minimum: -1400, maximum: 30_000 })),
  confirmed: maybe(Type.Boolean({ description: 'the figures look implausible and are right all the same' })),
  rockClass: maybe(rockClassSchema),
  members: maybe(labels),
  turnedBecause: maybe(
    Type.String({
      maxLength: 500,
      description: 'why the group turned back, if it did; no names and no labels',
    }),
  ),
  nearMisses: maybe(
    Type.Array(Type.String({ minLength: 1, maxLength: 500 }), {
      maxItems: 20,
      description: 'what nearly went wrong, one text each; no names and no labels',
    }),
  ),
});

export type OutingInput = Type.Static<typeof outingSchema>;

/**
 * The people who go together. Beside name and participants every field may be missing or `null`: "not
 * known", for which nothing is put in here.
 */
export const cohortSchema = closed({
  name: Type.String({ minLength: 1, maxLength: 200, description: 'a name in quotes' }),
  participants: Type.Integer({ minimum: 1, maximum: 500 }),
  leaders: maybe(Type.Integer({ minimum: 0, maximum: 100 })),
  ageBand: maybe(oneOf(['8-11', '12-14', '15-17', 'adult'])),
  members: maybe(labels),
  going: maybe(labels),
  home: maybe(
    closed({
      lat: Type.Number({ minimum: -90, maximum: 90 }),
      lon: Type.Number({ minimum: -180, maximum: 180 }),
      name: maybe(Type.String({ maxLength: 200 })),
    }),
  ),
  driveLimit: maybe(
    closed({
      km: maybe(Type.Number({ minimum: 0, maximum: 5000 })),
      minutes: maybe(Type.Number({ minimum: 0, maximum: 10_000 })),
    }),
  ),
  vehicles: maybe(
    Type.Array(closed({ seats: Type.Integer({ minimum: 0, maximum: 100 }), clearance: clearanceSchema }), {
      maxItems: 200,
    }),
  ),
  comfortClass: maybe(rockClassSchema),
  class3Agreed: maybe(
    Type.Boolean({ description: 'the program has agreed to class 3 for this group of minors' }),
  ),
  sleepElevationM: maybe(Type.Number({ minimum: -430, maximum: 6000 })),
  nightsM: maybe(
    Type.Array(Type.Number({ minimum: -430, maximum: 6000 }), {
      maxItems: 60,
      description: 'sleeping heights of the nights before, in order, the last one the night before the trip',
    }),
  ),
  altitudeHistory: maybe(oneOf(['none', 'mild', 'severe', 'hapeHace'])),
  earliestStart: maybe(clock),
  deadline: maybe(clock),
  headlamps: maybe(Type.Boolean()),
  aim: maybe(oneOf(['comfort', 'challenge'])),
  outings: maybe(Type.Array(outingSchema, { maxItems: 1000 })),
});

export type CohortInput = Type.Static<typeof cohortSchema>;

const cohortShape = shapeCheck(cohortSchema, {
  code: 'bad-cohort',
  field: 'The cohort field',
  whole: 'The whole of the cohort',
});
const outingShape = shapeCheck(outingSchema, {
  code: 'bad-outing',
  field: 'The outing field',
  whole: 'The whole of the outing',
});

/**
 * Reads the text of a cohort file.
 * @throws EngineError `bad-cohort` (or a JSON error) with the file, the pointer and what to write instead.
 */
export function readCohort(text: string, file: string): CohortInput {
  if (/^\uFEFF?\s*</.test(text)) {
    throw new EngineError(
      'bad-cohort',
      'This is XML, not a cohort file: a cohort is JSON. A GPX file goes to --routes or to an outing.',
      { file },
    );
  }
  return readSideFile(text, file, 'bad-cohort', checkCohort);
}

/**
 * Checks a cohort that was parsed already. The meeting place comes back rounded to 0.01 degrees
 * (about 1 km): it is never a dwelling.
 * @throws EngineError `bad-cohort`, or `bad-text`.
 */
export function checkCohort(value: unknown): CohortInput {
  const tidied = tidyText(cohortShape(value, '', cohortRules), '');
  const { home } = tidied;
  return home === undefined || home === null
    ? tidied
    : { ...tidied, home: { ...home, lat: coarseDeg(home.lat), lon: coarseDeg(home.lon) } };
}

/**
 * Checks one outing that was parsed already; `members` are the cohort's labels, `null` where it has none.
 * @throws EngineError `bad-outing`, or `bad-text`.
 */
export function checkOuting(value: unknown, members: readonly string[] | null): OutingInput {
  return tidyText(
    outingShape(value, '', (outing, faults, at) => outingRules(outing, members, faults, at)),
    '',
  );
}

function cohortRules(cohort: CohortInput, faults: Faults): void {
  const members = faults.sound('/members', cohort.members ?? null);
  const going = faults.sound('/going', cohort.going);
  const participants = faults.sound('/participants', cohort.participants);
  subsetRule('/going', going, members, faults);
  if (going != null && participants !== undefined && going.length > participants) {
    faults.addAt(
      '/going',
      message`names ${going.length} members, but /participants is ${participants}. Correct one of them.`,
      { limit: participants, found: going.length },
    );
  }
  for (const [outing, at] of faults.items('/outings', cohort.outings))
    outingRules(outing, members, faults, at);
  const name = faults.sound('/name', cohort.name);
  faults.from(() => {
    if (name !== undefined && tidyText(name, '/name') === '')
      faults.addAt('/name', 'is blank. Write a name in quotes.');
  });
}

/** @param members the cohort's labels; `null`: it has none, `undefined`: they are not known */
function outingRules(
  outing: OutingInput,
  members: readonly string[] | null | undefined,
  faults: Faults,
  at: string,
): void {
  const date = faults.sound(`${at}/date`, outing.date);
  if (date !== undefined && !isRealDate(date)) {
    faults.add(`${at}/date`, message`The day ${quote(date)} at ${at}/date does not exist. Correct the date.`);
  }
  // Whether a figure is given counts here, not whether it is right.
  const hasTrack = known(outing.track);
  const hasDistance = [outing.distanceM, outing.distanceKm, outing.distanceMi].some(known);
  const hasClimb = [outing.gainM, outing.gainFt].some(known);
  const hasRepeats = known(outing.repeats);
  const shown = at === '' ? 'The outing' : `The outing at ${at}`;
  if (!hasTrack && !hasRepeats && !(hasDistance && hasClimb)) {
    const missing = hasDistance
      ? '"gainM" is missing'
      : hasClimb
        ? '"distanceM" is missing'
        : 'it has neither';
    faults.add(
      at,
      message`${shown} needs a "track", or "distanceM" and "gainM" (or "repeats") by hand; ${missing}.`,
    );
  }
  if (hasTrack && (hasDistance || hasClimb || hasRepeats || known(outing.lossM))) {
    faults.add(
      at,
      message`${shown} has a "track" and a distance or climb by hand. Keep one: a track is measured.`,
    );
  }
  subsetRule(`${at}/members`, faults.sound(`${at}/members`, outing.members), members, faults);
  const turnedBecause = faults.sound(`${at}/turnedBecause`, outing.turnedBecause);
  noLabelRule(`${at}/turnedBecause`, turnedBecause ?? '', members, faults);
  for (const [text, textAt] of faults.items(`${at}/nearMisses`, outing.nearMisses))
    noLabelRule(textAt, text, members, faults);
}

/**
 * A text about a day names nobody, so that erasing a label never leaves it in one. One letter, or a number, is taken
 * for what it usually is in a sentence.
 */
function noLabelRule(
  pointer: string,
  text: string,
  members: readonly string[] | null | undefined,
  faults: Faults,
): void {
  const words = text.toLowerCase().match(/[a-z0-9_-]+/g) ?? [];
  const said = new Set(words.flatMap((word) => [word, ...word.split(/[-_]/)]));
  const named = members?.find(
    (label) => label.length > 1 && /[A-Za-z]/.test(label) && said.has(label.toLowerCase()),
  );
  if (named === undefined) return;
  faults.add(
    pointer,
    message`The text at ${pointer} names the label ${quote(named)}. Write "one of us" or leave it out: these texts name nobody.`,
  );
}

function known(value: unknown): boolean {
  return value !== undefined && value !== null;
}

function subsetRule(
  pointer: string,
  part: readonly string[] | null | undefined,
  members: readonly string[] | null | undefined,
  faults: Faults,
): void {
  if (part == null || members === undefined) return;
  const all = new Set(members);
  for (const [index, name] of part.entries()) {
    if (all.has(name)) continue;
    faults.add(
      `${pointer}/${index}`,
      message`The label ${quote(name)} at ${pointer}/${index} is not among the cohort's members. Add it to "members" or remove it here.`,
    );
  }
}

function coarseDeg(valueDeg: number): number {
  return Math.round(valueDeg * 100) / 100 + 0;
}
