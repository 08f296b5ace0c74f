/** The two forms by which a day walked is recorded, and the day that a form describes. */
import { type EngineError, faultsOf, together } from '../../errors.ts';
import { checkOuting } from '../../ingest/cohort-file.ts';
import { MIN_PER_H, type UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import {
  AMOUNT,
  DATE,
  FIGURE,
  type FormField,
  fieldsAt,
  heightUnit,
  numberOf,
  recordOf,
  roadUnit,
  textOf,
} from '../form-table.ts';

const REQUIRED_DATE = { ...DATE, required: true };
const REQUIRED_AMOUNT = { ...AMOUNT, required: true };
const CLASS = { label: 'Rock class of the hardest move', hint: 'such as 1 or 2+' };
const TURNED = { label: 'Why the group turned back, if it did', input: { maxLength: 500 } };
const NEAR = { label: 'What nearly went wrong, a line each', input: { maxLength: 4000 } };
const UNNAMED = { hint: 'no names, no labels', isLong: true };

/** What people report of a day, in the one form or the other. */
const reportFields = (prefix: string): readonly FormField[] => [
  { id: `${prefix}turnedBecause`, at: '/turnedBecause', ...TURNED, ...UNNAMED },
  { id: `${prefix}nearMisses`, at: '/nearMisses', holds: 'lines', ...NEAR, ...UNNAMED },
];

const MEMBERS: FormField = { id: 'members', label: 'Who was there', holds: 'words' };

/** A day by hand: its figures are read in the units in which they are typed. */
export function handForm(units: UnitSystem) {
  const [lengthAt, climbAt, topAt] =
    units === 'us'
      ? ['/distanceMi', '/gainFt', '/maxElevationFt']
      : ['/distanceKm', '/gainM', '/maxElevationM'];
  const length = { at: lengthAt, covers: ['/distanceM'], typedIn: { ...roadUnit(units), perUnit: 1 } };
  const height = { typedIn: { ...heightUnit(units), perUnit: 1 } };
  const hours = { at: '/movingMin', typedIn: { name: 'h', perUnit: MIN_PER_H, decimals: 0 } };
  const climbHint = 'all of the ways up together';
  const figures: readonly FormField[] = [
    { id: 'date', label: 'Day', input: REQUIRED_DATE },
    { id: 'distance', label: 'Length', ...length, input: REQUIRED_AMOUNT },
    { id: 'gain', label: 'Climb', hint: climbHint, at: climbAt, ...height, input: REQUIRED_AMOUNT },
    { id: 'hours', label: 'Walking time: hours', hint: 'stops not counted', ...hours, input: AMOUNT },
    { id: 'minutes', label: 'Walking time: minutes', input: AMOUNT },
    { id: 'top', label: 'Highest point', at: topAt, ...height, input: FIGURE },
    { id: 'rockClass', ...CLASS },
  ];
  const report = reportFields('');
  return { figures, report, table: [...figures, MEMBERS, ...report] };
}

/** What is no number stays the text that it is, for the reader of the whole to refuse it. */
function movingMinOf(hours: number | string | null, minutes: number | string | null) {
  if (typeof hours === 'string') return hours;
  if (typeof minutes === 'string') return minutes;
  return hours === null && minutes === null ? null : (hours ?? 0) * MIN_PER_H + (minutes ?? 0);
}

export function dayByHand(form: URLSearchParams, units: UnitSystem): unknown {
  const { minutes: _, ...day } = recordOf(handForm(units).table, form, null);
  return {
    ...day,
    movingMin: movingMinOf(numberOf(form, 'hours'), numberOf(form, 'minutes')),
    ...(form.get('confirmed') === 'true' ? { confirmed: true } : {}),
  };
}

export const handRules = (units: UnitSystem): FormRules => ({
  table: handForm(units).table,
  fieldsOf(pointer, form) {
    // Of the whole of it: the length or the climb is not there.
    if (pointer === '') return ['distance', 'gain'].filter((field) => textOf(form, field) === null);
    if (pointer !== '/movingMin' || typeof numberOf(form, 'hours') === 'string') return null;
    const isInMinutes = typeof numberOf(form, 'minutes') === 'string' || textOf(form, 'hours') === null;
    return [isInMinutes ? 'minutes' : 'hours'];
  },
  wordsAt: (pointer) =>
    pointer === '' ? 'This is missing: a day by hand has its length and its climb.' : null,
});

/** A day by file. `routes`: those that it may have been planned on. */
export function trackForm(routes: readonly { readonly id: string; readonly name: string }[]) {
  const planned: FormField = {
    id: 'routeId',
    label: 'Planned as',
    hint: 'then the day is set beside its plan',
    options: [['', 'no plan'], ...routes.map(({ id, name }) => [id, name] as const)],
  };
  const file: readonly FormField[] = [
    { id: 'track', label: 'GPX file', input: { type: 'file', accept: '.gpx', required: true } },
    { id: 'trackDate', label: 'Day of the recording', at: '/date', input: REQUIRED_DATE },
    { id: 'trackRockClass', at: '/rockClass', ...CLASS },
    planned,
  ];
  const report = reportFields('track-');
  return { file, report, table: [...file, MEMBERS, ...report] };
}

const TRACK_TABLE = trackForm([]).table;

/** What is sent of a day beside its recording. */
export const recordedDayOf = (form: URLSearchParams) => {
  const { track: _, ...day } = recordOf(TRACK_TABLE, form, null);
  return day as { date: string; rockClass: string | null; members: string[] | null; routeId: string | null };
};

export const TRACK_RULES: FormRules = {
  table: TRACK_TABLE,
  fieldsOf(pointer, form) {
    const [field = 'track'] = fieldsAt(TRACK_TABLE, form, pointer);
    return pointer === '' ? [] : [field === 'members' ? 'track' : field];
  },
};

/** What is wrong with a day by file: what was met, and what is wrong with the fields beside the recording. */
export function trackFault(
  met: EngineError,
  form: URLSearchParams,
  members: readonly string[] | null,
): EngineError {
  const { routeId: _, ...day } = recordedDayOf(form);
  return together([...met.all, ...faultsOf(() => checkOuting({ ...day, track: 'body' }, members))]);
}
