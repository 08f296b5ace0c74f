/** The what-if fields of a cohort's page, and the changes that they ask for. */
import { addDays } from '../../earth/local-time.ts';
import type { Cohort } from '../../storage/cohorts.ts';
import type { UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import { numberOf, textOf } from '../form-values.ts';
import { dayByHand, OUTING_FIELDS } from '../outings/day-by-hand.ts';

/** Vehicles that the form has room for (design). */
export const WHAT_IF_VEHICLES = 2;

/** A day that is imagined without a date lies so long before the trip (design). */
const DAYS_BEFORE = 7;

const NAMES: ReadonlySet<string> = new Set([
  'start',
  'deadline',
  'without',
  'distance',
  'gain',
  'hours',
  'minutes',
  'rockClass',
  'walked',
  ...Array.from({ length: WHAT_IF_VEHICLES }, (_, i) => `seats${i + 1}`),
  ...Array.from({ length: WHAT_IF_VEHICLES }, (_, i) => `clearance${i + 1}`),
]);

/** What a page's address asks to change, as it stands there: only what says something. */
export function askedChanges(query: URLSearchParams): readonly (readonly [string, string])[] {
  const named = [...query].filter(([name, value]) => NAMES.has(name) && value.trim() !== '');
  const hasSeats = (name: string) => named.some(([other]) => other === name.replace('clearance', 'seats'));
  return named.filter(([name]) => !name.startsWith('clearance') || hasSeats(name));
}

const FIELDS: Readonly<Record<string, string>> = {
  going: 'without',
  participants: 'without',
  date: 'walked',
};

/** Where the faults of changes are told. */
export const WHAT_IF_RULES: FormRules = {
  fieldsOf: () => (pointer) => {
    const [, vehicle, part] = /^\/vehicles\/(\d+)\/(seats|clearance)$/.exec(pointer) ?? [];
    if (vehicle !== undefined && part !== undefined) return [`${part}${Number(vehicle) + 1}`];
    const name = pointer.split('/').at(-1) ?? '';
    return [FIELDS[name] ?? OUTING_FIELDS[name] ?? (NAMES.has(name) ? name : [])].flat();
  },
  unitOf: () => null,
};

/** The changes as the context reads them; `null`: none is asked for. */
export function whatIfOf(
  changes: readonly (readonly [string, string])[],
  cohort: Cohort,
  date: string,
  units: UnitSystem,
): unknown {
  if (changes.length === 0) return null;
  const form = new URLSearchParams(changes.map(([name, value]) => [name, value]));
  const without = form.getAll('without');
  const going = cohort.going ?? cohort.members ?? [];
  const staying = going.filter((label) => without.includes(label)).length;
  const rows = Array.from({ length: WHAT_IF_VEHICLES }, (_, i) => i + 1);
  const vehicles = rows
    .map((n) => ({ seats: numberOf(form, `seats${n}`), clearance: textOf(form, `clearance${n}`) ?? 'any' }))
    .filter(({ seats }) => seats !== null);
  const hasDay = form.has('distance') || form.has('gain');
  form.set('date', textOf(form, 'walked') ?? addDays(date, -DAYS_BEFORE));
  return {
    ...(form.has('start') ? { start: textOf(form, 'start') } : {}),
    ...(form.has('deadline') ? { deadline: textOf(form, 'deadline') } : {}),
    ...(staying === 0
      ? {}
      : {
          going: going.filter((label) => !without.includes(label)),
          participants: cohort.participants - staying,
        }),
    ...(vehicles.length === 0 ? {} : { vehicles }),
    ...(hasDay ? { outings: [dayByHand(form, units)] } : {}),
  };
}
