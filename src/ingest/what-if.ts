import Type from 'typebox';
import { MOST_WEIGHT } from '../design/ranking.ts';
import { DESIGN } from '../design.ts';
import { EngineError } from '../errors.ts';
import { closed, maybe } from '../schema.ts';
import {
  type CohortInput,
  checkCohort,
  checkOuting,
  cohortSchema,
  type OutingInput,
  outingSchema,
} from './cohort-file.ts';
import { tidyText } from './names.ts';
import { inQuotes } from './schema-fault.ts';
import { shapeCheck } from './shape.ts';

const { participants, earliestStart, ...others } = Type.Pick(cohortSchema, [
  'participants',
  'leaders',
  'going',
  'vehicles',
  'driveLimit',
  'comfortClass',
  'sleepElevationM',
  'nightsM',
  'earliestStart',
  'deadline',
  'headlamps',
  'aim',
]).properties;

const weight = maybe(Type.Number({ minimum: 0, maximum: MOST_WEIGHT }));

/** What a shortlist is asked with instead: only what is named changes, and nothing of it is stored. */
export const whatIfSchema = closed({
  date: maybe(Type.String({ maxLength: 40, ...inQuotes('a day', '"2026-07-18"') })),
  /** A start that the leader would choose. */
  start: earliestStart,
  participants: Type.Optional(participants),
  earliestStart,
  ...others,
  /** Days by hand that the group would have walked, beside those that it has. */
  outings: maybe(Type.Array(outingSchema, { maxItems: 50 })),
  weights: maybe(
    closed(
      Object.fromEntries(Object.keys(DESIGN.weights).map((name) => [name, weight])),
      'weights by criterion, in { }',
    ),
  ),
});

export type WhatIfInput = Type.Static<typeof whatIfSchema>;

const whatIfShape = shapeCheck(whatIfSchema, {
  code: 'bad-what-if',
  field: 'The change',
  whole: 'The whole of the changes',
});

/**
 * Checks the changes that were parsed already, against the cohort that they would change.
 * @throws EngineError `bad-what-if`, with the pointer and what to write instead.
 */
export function checkWhatIf(
  value: unknown,
  cohort: CohortInput,
): { readonly changes: WhatIfInput; readonly cohort: CohortInput } {
  let changed = cohort;
  const asked = whatIfShape(value, '', (changes, faults) => {
    for (const [outing, at] of faults.items('/outings', changes.outings)) {
      if (faults.sound(at, outing) !== undefined)
        faults.from(() => checkByHand(outing, cohort.members ?? null), asWhatIf);
    }
    if (faults.sound('', changes) === undefined) return;
    const { date: _date, start: _start, outings: _outings, weights: _weights, ...ofCohort } = changes;
    faults.from(() => {
      changed = checkCohort({ ...cohort, ...ofCohort });
    }, asWhatIf);
  });
  return { changes: tidyText(asked, ''), cohort: changed };
}

function checkByHand(outing: OutingInput, members: readonly string[] | null): void {
  if (outing.track != null) {
    throw new EngineError(
      'bad-outing',
      'An outing here is entered by hand: give distance and climb, no track.',
    );
  }
  checkOuting(outing, members);
}

const asWhatIf = ({ reason, place }: EngineError) => new EngineError('bad-what-if', reason, place);
