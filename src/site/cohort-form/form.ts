/** A cohort as the fields of its form, and back. */
import type { Cohort } from '../../storage/cohorts.ts';
import type { UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import type { FormValues } from '../field.tsx';
import { type FieldUnit, heightUnit, numberOf, readIn, roadUnit, shownIn, textOf } from '../form-values.ts';

/** Rows of vehicles beside those there are (design). */
const SPARE_VEHICLES = 2;

const FIELDS: Readonly<Record<string, string>> = {
  '/home': 'homeLat',
  '/home/lat': 'homeLat',
  '/home/lon': 'homeLon',
  '/home/name': 'homeName',
  '/driveLimit/km': 'drive',
  '/driveLimit/minutes': 'driveMin',
  '/sleepElevationM': 'sleep',
};

export const vehicleRows = (cohort: Cohort | null): number =>
  (cohort?.vehicles?.length ?? 0) + SPARE_VEHICLES;

/** The rows of vehicles in which something is said. */
const saidVehicles = (form: URLSearchParams, stored: Cohort | null): readonly number[] =>
  Array.from({ length: vehicleRows(stored) }, (_, i) => i + 1).filter(
    (n) => textOf(form, `seats${n}`) !== null || (textOf(form, `clearance${n}`) ?? 'any') !== 'any',
  );

/** The rules of a cohort's form; `stored` is `null` for a new one. */
export function cohortRules(stored: Cohort | null, units: UnitSystem): FormRules {
  const unitsOf: Readonly<Record<string, FieldUnit>> = { sleep: heightUnit(units), drive: roadUnit(units) };
  return {
    fieldsOf: (form) => (pointer) => {
      const [, index, part] = /^\/vehicles\/(\d+)\/(seats|clearance)$/.exec(pointer) ?? [];
      if (index !== undefined && part !== undefined)
        return [`${part}${saidVehicles(form, stored)[Number(index)]}`];
      const [, first = ''] = pointer.split('/');
      return [FIELDS[pointer] ?? (first === 'going' ? 'members' : first)];
    },
    unitOf: (field) => unitsOf[field] ?? null,
  };
}

/** What the rows of vehicles say before anything is stated in them. */
export const emptyVehicles = (cohort: Cohort): FormValues =>
  Object.fromEntries(Array.from({ length: vehicleRows(cohort) }, (_, i) => [`clearance${i + 1}`, 'any']));

export function cohortValues(cohort: Cohort, units: UnitSystem): FormValues {
  const text = (value: string | number | boolean | null | undefined) => (value == null ? '' : String(value));
  return {
    name: cohort.name,
    participants: text(cohort.participants),
    leaders: text(cohort.leaders),
    ageBand: text(cohort.ageBand),
    members: (cohort.members ?? []).join(' '),
    comfortClass: text(cohort.comfortClass),
    aim: text(cohort.aim),
    sleep: shownIn(heightUnit(units), cohort.sleepElevationM),
    altitudeHistory: text(cohort.altitudeHistory),
    earliestStart: text(cohort.earliestStart),
    deadline: text(cohort.deadline),
    headlamps: text(cohort.headlamps),
    homeName: text(cohort.home?.name),
    homeLat: text(cohort.home?.lat),
    homeLon: text(cohort.home?.lon),
    drive: shownIn(roadUnit(units), cohort.driveLimit?.km),
    driveMin: text(cohort.driveLimit?.minutes),
    ...Object.fromEntries(
      (cohort.vehicles ?? []).flatMap(({ seats, clearance }, i) => [
        [`seats${i + 1}`, String(seats)],
        [`clearance${i + 1}`, clearance],
      ]),
    ),
  };
}

const isStated = (fields: object): boolean => Object.values(fields).some((value) => value !== null);

/** The cohort that a form describes; what the form does not show stays as it is. */
export function cohortOf(form: URLSearchParams, stored: Cohort | null, units: UnitSystem): unknown {
  const text = (name: string) => textOf(form, name);
  const members = (text('members') ?? '').split(/[\s,;]+/).filter((label) => label !== '');
  const going = form.getAll('going').filter((label) => members.includes(label));
  const home = { lat: numberOf(form, 'homeLat'), lon: numberOf(form, 'homeLon'), name: text('homeName') };
  const driveLimit = {
    km: readIn(roadUnit(units), form, 'drive', stored?.driveLimit?.km),
    minutes: numberOf(form, 'driveMin'),
  };
  const vehicles = saidVehicles(form, stored).map((n) => ({
    seats: numberOf(form, `seats${n}`),
    clearance: text(`clearance${n}`) ?? 'any',
  }));
  const headlamps = text('headlamps');
  return {
    ...stored,
    name: text('name') ?? '',
    participants: numberOf(form, 'participants'),
    leaders: numberOf(form, 'leaders'),
    ageBand: text('ageBand'),
    members: members.length === 0 ? null : members,
    going: going.length === 0 ? null : going,
    home: isStated(home) ? home : null,
    driveLimit: isStated(driveLimit) ? driveLimit : null,
    vehicles: vehicles.length === 0 ? null : vehicles,
    comfortClass: text('comfortClass'),
    sleepElevationM: readIn(heightUnit(units), form, 'sleep', stored?.sleepElevationM),
    altitudeHistory: text('altitudeHistory'),
    earliestStart: text('earliestStart'),
    deadline: text('deadline'),
    headlamps: headlamps === null ? null : headlamps === 'true',
    aim: text('aim'),
  };
}
