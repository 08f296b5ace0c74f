/** The what-if fields of a cohort's page, and the changes that they ask for. */
import { addDays } from '../../earth/local-time.ts';
import type { Cohort } from '../../storage/cohorts.ts';
import type { UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import { vehicleRow } from '../field.tsx';
import {
  AMOUNT,
  DATE,
  eachRow,
  type FormField,
  type FormRows,
  fieldsAt,
  heightUnit,
  recordOf,
  roadUnit,
  TIME,
  textOf,
} from '../form-table.ts';
import { dayByHand } from '../outings/form.ts';

/** A day that is imagined without a date lies so long before the trip (design). */
const DAYS_BEFORE = 7;

/** The fields by the parts of the page. `vehicles`: those there are, in words. */
export function whatIfForm(units: UnitSystem, vehicles = '') {
  const first = { hint: vehicles === '' ? 'none stated' : `instead of ${vehicles}` };
  const times: readonly FormField[] = [
    { id: 'start', label: 'A start at', input: TIME },
    { id: 'deadline', label: 'Below treeline by', input: TIME },
  ];
  const rows: FormRows = {
    at: '/vehicles',
    count: 2,
    row: (n) => vehicleRow(n, n === 1 ? { label: 'Other vehicles: seats', ...first } : {}),
  };
  const distances = ['/distanceM', '/distanceKm', '/distanceMi'];
  const walked: readonly FormField[] = [
    { id: 'distance', label: `Length, ${roadUnit(units).words}`, covers: distances, input: AMOUNT },
    { id: 'gain', label: `Climb, ${heightUnit(units).words}`, covers: ['/gainM', '/gainFt'], input: AMOUNT },
    { id: 'hours', label: 'Hours', covers: ['/movingMin'], input: AMOUNT },
    { id: 'rockClass', label: 'Rock class' },
    { id: 'walked', label: 'Day', hint: 'left empty: a week before', at: '/date', input: DATE },
  ];
  const without: FormField = { id: 'without', label: 'Without', covers: ['/going', '/participants'] };
  return {
    before: [...times, ...eachRow(rows).flat()],
    walked,
    rows,
    table: [...times, rows, ...walked, without],
  };
}

const NAMES: ReadonlySet<string> = new Set([
  'minutes',
  'without',
  ...Object.values(whatIfForm('metric').before).map(({ id }) => id),
  ...whatIfForm('metric').walked.map(({ id }) => id),
]);

/** What a page's address asks to change, as it stands there: only what says something. */
export function askedChanges(query: URLSearchParams): readonly (readonly [field: string, text: string])[] {
  const named = [...query].filter(([name, value]) => NAMES.has(name) && value.trim() !== '');
  const hasSeats = (name: string) => named.some(([other]) => other === name.replace('clearance', 'seats'));
  return named.filter(([name]) => !name.startsWith('clearance') || hasSeats(name));
}

/** Where the faults of changes are told: those of an imagined day at its fields. */
export function whatIfRules(units: UnitSystem): FormRules {
  const { table } = whatIfForm(units);
  const own = (pointer: string) => pointer.replace(/^\/outings\/\d+/, '').replace(/^(\/going)\/.*/, '$1');
  return { table, fieldsOf: (pointer, form) => fieldsAt(table, form, own(pointer)) };
}

/** The changes as the context reads them; `null`: none is asked for. */
export function whatIfOf(
  changes: ReturnType<typeof askedChanges>,
  cohort: Cohort,
  date: string,
  units: UnitSystem,
): unknown {
  if (changes.length === 0) return null;
  const form = new URLSearchParams(changes.map(([name, value]) => [name, value]));
  const without = form.getAll('without');
  const going = cohort.going ?? cohort.members ?? [];
  const left = going.filter((label) => !without.includes(label));
  const staying = going.length - left.length;
  const { vehicles } = recordOf([whatIfForm(units).rows], form, null);
  const hasDay = form.has('distance') || form.has('gain');
  form.set('date', textOf(form, 'walked') ?? addDays(date, -DAYS_BEFORE));
  return {
    ...(form.has('start') ? { start: textOf(form, 'start') } : {}),
    ...(form.has('deadline') ? { deadline: textOf(form, 'deadline') } : {}),
    ...(staying === 0 ? {} : { going: left, participants: cohort.participants - staying }),
    ...(vehicles === null ? {} : { vehicles }),
    ...(hasDay ? { outings: [dayByHand(form, units)] } : {}),
  };
}
