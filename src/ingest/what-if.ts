import Type from 'typebox';
import { Compile } from 'typebox/compile';
import { DESIGN } from '../design.ts';
import { EngineError } from '../errors.ts';
import { maybe } from './attributes.ts';
import { type CohortInput, checkCohort, checkOuting, cohortSchema, outingSchema } from './cohort-file.ts';
import { tidyText } from './names.ts';
import { schemaFault } from './schema-fault.ts';

const { participants, leaders, going, vehicles, driveLimit, comfortClass } = cohortSchema.properties;
const { sleepElevationM, nightsM, earliestStart, deadline, headlamps, aim } = cohortSchema.properties;

const weight = maybe(Type.Number({ minimum: 0, maximum: 1000 }));

/** What a shortlist is asked with instead: only what is named changes, and nothing of it is stored. */
export const whatIfSchema = Type.Object(
  {
    date: maybe(Type.String({ maxLength: 40, description: 'a day in quotes such as "2026-07-18"' })),
    /** A start that the leader would choose. */
    start: earliestStart,
    participants: Type.Optional(participants),
    leaders,
    going,
    vehicles,
    driveLimit,
    comfortClass,
    sleepElevationM,
    nightsM,
    earliestStart,
    deadline,
    headlamps,
    aim,
    /** Days by hand that the group would have walked, beside those that it has. */
    outings: maybe(Type.Array(outingSchema, { maxItems: 50 })),
    weights: maybe(
      Type.Object(Object.fromEntries(Object.keys(DESIGN.weights).map((name) => [name, weight])), {
        additionalProperties: false,
        description: 'weights by criterion, in { }',
      }),
    ),
  },
  { additionalProperties: false },
);

export type WhatIfInput = Type.Static<typeof whatIfSchema>;

const validator = Compile(whatIfSchema);

/**
 * Checks the changes that were parsed already, against the cohort that they would change.
 * @throws EngineError `bad-what-if`, with the pointer and what to write instead.
 */
export function checkWhatIf(
  value: unknown,
  cohort: CohortInput,
): { readonly changes: WhatIfInput; readonly cohort: CohortInput } {
  if (!validator.Check(value)) {
    const fault = schemaFault(whatIfSchema, value, '');
    if (fault === null) throw new RangeError('the schema refuses changes that its walker accepts');
    const { pointer, text } = fault;
    const where = pointer === '' ? 'The whole of the changes' : `The change ${pointer}`;
    throw new EngineError('bad-what-if', `${where} ${text}`, { pointer });
  }
  const changes = tidyText(value, '');
  const { date: _date, start: _start, outings, weights: _weights, ...ofCohort } = changes;
  try {
    for (const outing of outings ?? []) {
      if (outing.track != null) {
        throw new EngineError(
          'bad-outing',
          'An outing here is entered by hand: give distance and climb, no track.',
        );
      }
      checkOuting(outing, cohort.members ?? null);
    }
    return { changes, cohort: checkCohort({ ...cohort, ...ofCohort }) };
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    throw new EngineError('bad-what-if', error.message, error.place);
  }
}
