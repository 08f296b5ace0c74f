/** The rules of the two forms by which a day walked is recorded. */
import { checkOuting } from '../../ingest/cohort-file.ts';
import { MIN_PER_H, type UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import { type FieldUnit, heightUnit, numberOf, roadUnit, textOf } from '../form-values.ts';
import { dayByHand, linesOf, membersOf, OUTING_FIELDS } from './day-by-hand.ts';

/** What stands in for a field that cannot be left out. */
const STAND_INS: Readonly<Record<string, string>> = { date: '2026-07-01', distance: '1', gain: '1' };

const nameIn = (pointer: string): string => pointer.split('/')[1] ?? '';

/** Of a day by hand; `members` are the cohort's labels. */
export function handRules(members: readonly string[] | null, units: UnitSystem): FormRules {
  // A day by hand is read in these units: its bounds are in them already.
  const unitsOf: Readonly<Record<string, FieldUnit>> = {
    distance: { ...roadUnit(units), perUnit: 1 },
    gain: { ...heightUnit(units), perUnit: 1 },
    top: { ...heightUnit(units), perUnit: 1 },
    hours: { name: 'h', perUnit: MIN_PER_H, decimals: 0 },
  };
  return {
    fieldOf: (form) => (pointer) => {
      const name = nameIn(pointer);
      // Of the whole of it: the length or the climb is not there.
      if (name === '') return textOf(form, 'distance') === null ? 'distance' : 'gain';
      if (name === 'movingMin' && typeof numberOf(form, 'hours') !== 'string') {
        return typeof numberOf(form, 'minutes') === 'string' || textOf(form, 'hours') === null
          ? 'minutes'
          : 'hours';
      }
      return OUTING_FIELDS[name] ?? name;
    },
    check: (form) => checkOuting(dayByHand(form, units), members),
    mends: (field) => [{ [field]: STAND_INS[field] ?? '' }],
    unitOf: (field) => unitsOf[field] ?? null,
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

/** Of a day by file. The recording itself is read when the rest is right. */
export function trackRules(members: readonly string[] | null): FormRules {
  return {
    fieldOf: () => (pointer) => {
      const name = nameIn(pointer);
      return name === '' ? null : (TRACK_FIELDS[name] ?? 'track');
    },
    check: (form) => checkOuting({ ...recordedDayOf(form), track: 'body' }, members),
    mends: (field) => [{ [field]: field === 'trackDate' ? '2026-07-01' : '' }],
    unitOf: () => null,
  };
}
