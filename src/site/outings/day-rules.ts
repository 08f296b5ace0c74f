/** The rules of the two forms by which a day walked is recorded. */
import { type EngineError, faultsOf, together } from '../../errors.ts';
import { checkOuting } from '../../ingest/cohort-file.ts';
import { MIN_PER_H, type UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import { type FieldUnit, heightUnit, numberOf, roadUnit, textOf } from '../form-values.ts';
import { linesOf, membersOf, OUTING_FIELDS } from './day-by-hand.ts';

const nameIn = (pointer: string): string => pointer.split('/')[1] ?? '';

/** Of a day by hand. */
export function handRules(units: UnitSystem): FormRules {
  // A day by hand is read in these units: its bounds are in them already.
  const unitsOf: Readonly<Record<string, FieldUnit>> = {
    distance: { ...roadUnit(units), perUnit: 1 },
    gain: { ...heightUnit(units), perUnit: 1 },
    top: { ...heightUnit(units), perUnit: 1 },
    hours: { name: 'h', perUnit: MIN_PER_H, decimals: 0 },
  };
  return {
    fieldsOf: (form) => (pointer) => {
      const name = nameIn(pointer);
      // Of the whole of it: the length or the climb is not there.
      if (name === '') return ['distance', 'gain'].filter((field) => textOf(form, field) === null);
      if (name === 'movingMin' && typeof numberOf(form, 'hours') !== 'string') {
        const isInMinutes = typeof numberOf(form, 'minutes') === 'string' || textOf(form, 'hours') === null;
        return [isInMinutes ? 'minutes' : 'hours'];
      }
      return [OUTING_FIELDS[name] ?? name];
    },
    unitOf: (field) => unitsOf[field] ?? null,
    wordsAt: (pointer) =>
      pointer === '' ? 'This is missing: a day by hand has its length and its climb.' : null,
  };
}

/** What is sent of a day beside its recording. */
export const recordedDayOf = (form: URLSearchParams) => ({
  date: textOf(form, 'trackDate') ?? '',
  rockClass: textOf(form, 'trackRockClass'),
  members: membersOf(form),
  turnedBecause: textOf(form, 'track-turnedBecause'),
  nearMisses: linesOf(textOf(form, 'track-nearMisses')),
});

const TRACK_FIELDS: Readonly<Record<string, string>> = {
  date: 'trackDate',
  rockClass: 'trackRockClass',
  turnedBecause: 'track-turnedBecause',
  nearMisses: 'track-nearMisses',
};

/** Of a day by file. */
export const TRACK_RULES: FormRules = {
  fieldsOf: () => (pointer) => {
    const name = nameIn(pointer);
    return name === '' ? [] : [TRACK_FIELDS[name] ?? 'track'];
  },
  unitOf: () => null,
};

/** What is wrong with a day by file: what was met, and what is wrong with the fields beside the recording. */
export const trackFault = (
  met: EngineError,
  form: URLSearchParams,
  members: readonly string[] | null,
): EngineError =>
  together([...met.all, ...faultsOf(() => checkOuting({ ...recordedDayOf(form), track: 'body' }, members))]);
