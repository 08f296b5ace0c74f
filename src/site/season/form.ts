/** The fields of a season, as they stand in an address, and what they ask for. */

import { checkLimits, type SeasonPlaces } from '../../app/season-board.ts';
import { addDays, daysBetween, isRealDate, weekdayOf } from '../../earth/local-time.ts';
import { EngineError } from '../../errors.ts';
import { quote } from '../../ingest/quote.ts';
import { checkSeasonRequest } from '../../ingest/season-file.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { peopleText } from '../../text/people-words.ts';
import type { FormRules } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { numberOf, textOf, valuesOf } from '../form-values.ts';
import type { SeasonFormView } from './state.ts';

/** Dates of one board at most, as its request has it. */
const MOST_DATES = 100;
/** Rows of vehicles and of limits that are read at most; the request takes no more of either from a form (design). */
const MOST_ROWS = 60;
/** Rows beside those that are filled, and rows at first (design). */
const SPARE_ROWS = 1;
const FIRST_ROWS = { dates: 4, vehicles: 2, limits: 1 } as const;

const DATE_FIELDS = ['date'] as const;
const VEHICLE_FIELDS = ['vehicle', 'seats'] as const;
const LIMIT_FIELDS = ['place', 'parties', 'size', 'spaces'] as const;

/** The numbers of the rows in which something is written. */
function filledRows(form: URLSearchParams, fields: readonly string[]): readonly number[] {
  return Array.from({ length: MOST_DATES }, (_, i) => i + 1).filter((n) =>
    fields.some((field) => textOf(form, `${field}${n}`) !== null),
  );
}

const listOf = (text: string | null): readonly string[] =>
  (text ?? '').split(/[\s,;]+/).filter((word) => word !== '');

function refuse(field: string, text: string): never {
  throw new EngineError('bad-season', text, { pointer: `/${field}` });
}

function dateIn(form: URLSearchParams, field: string): string | null {
  const text = textOf(form, field);
  if (text === null || isRealDate(text)) return text;
  return refuse(field, `${quote(text)} is no day of the calendar. Write it as 2026-07-11.`);
}

/** The days from one to another, those of the ticked days of the week. */
function stretchOf(form: URLSearchParams): readonly string[] {
  const from = dateIn(form, 'from');
  const to = dateIn(form, 'to');
  if (from === null && to === null) return [];
  if (from === null) return refuse('from', 'The first day is missing. Write it, or leave the last one out.');
  if (to === null) return refuse('to', 'The last day is missing. Write it, or make it a single day.');
  const days = daysBetween(from, to);
  if (days < 0) refuse('to', `The last day, ${to}, lies before the first. Change one of them.`);
  const weekdays = new Set(form.getAll('on'));
  const found: string[] = [];
  for (let day = 0; day <= days && found.length <= MOST_DATES; day += 1) {
    const date = addDays(from, day);
    if (weekdays.size === 0 || weekdays.has(String(weekdayOf(date)))) found.push(date);
  }
  if (found.length > MOST_DATES)
    refuse('to', `These are more than ${MOST_DATES} dates. Tick days of the week, or end earlier.`);
  if (found.length === 0) refuse('to', 'None of the days of the week that are ticked lies in this time.');
  return found;
}

function datesOf(form: URLSearchParams): readonly string[] {
  const single = filledRows(form, DATE_FIELDS).flatMap((n) => dateIn(form, `date${n}`) ?? []);
  const dates = [...new Set([...stretchOf(form), ...single])].sort();
  if (dates.length === 0) refuse('from', 'No date is chosen. Write a first and a last day, or single days.');
  if (dates.length > MOST_DATES)
    refuse('from', `These are ${dates.length} dates; one board takes ${MOST_DATES} at most.`);
  return dates;
}

/**
 * What the fields ask for, to be checked as any season is.
 * @throws EngineError `bad-season` with the field as pointer, for what only the form can say.
 */
export function seasonOf(form: URLSearchParams): unknown {
  const ids = form.getAll('cohort');
  if (ids.length === 0) refuse('cohort', 'No cohort is chosen. Tick one at least.');
  const own = new Set(form.getAll('own'));
  const vehicles = filledRows(form, VEHICLE_FIELDS).slice(0, MOST_ROWS);
  const limits = filledRows(form, LIMIT_FIELDS).slice(0, MOST_ROWS);
  return {
    name: textOf(form, 'name'),
    dates: datesOf(form),
    cohorts: ids.map((id) => ({
      id,
      notOn: listOf(textOf(form, `notOn-${id}`)),
      ledBy: listOf(textOf(form, `ledBy-${id}`)),
      ownVehicles: own.has(id) ? true : null,
    })),
    vehicles:
      vehicles.length === 0
        ? null
        : vehicles.map((n) => ({
            name: textOf(form, `vehicle${n}`),
            seats: numberOf(form, `seats${n}`),
            clearance: textOf(form, `clearance${n}`) ?? 'any',
          })),
    limits: limits.map((n) => ({
      [textOf(form, `limitAt${n}`) === 'who' ? 'who' : 'trailhead']: textOf(form, `place${n}`),
      partiesPerDay: numberOf(form, `parties${n}`),
      groupSizeLimit: numberOf(form, `size${n}`),
      parkingSpaces: numberOf(form, `spaces${n}`),
    })),
  };
}

const LIMIT_PARTS: Readonly<Record<string, string>> = {
  partiesPerDay: 'parties',
  groupSizeLimit: 'size',
  parkingSpaces: 'spaces',
};

/** The field of a JSON Pointer into what the fields asked for. */
const seasonField =
  (form: URLSearchParams) =>
  (pointer: string): string | null => {
    const [, list = '', index = '', part = ''] = pointer.split('/');
    if (list === 'cohorts' && index !== '')
      return part === 'notOn' || part === 'ledBy'
        ? `${part}-${form.getAll('cohort')[Number(index)]}`
        : 'cohort';
    if (list === 'vehicles' && index !== '') {
      const n = filledRows(form, VEHICLE_FIELDS)[Number(index)];
      return part === 'name' ? `vehicle${n}` : part === 'clearance' ? `clearance${n}` : `seats${n}`;
    }
    if (list === 'limits' && index !== '') {
      const n = filledRows(form, LIMIT_FIELDS)[Number(index)];
      return `${LIMIT_PARTS[part] ?? 'place'}${n}`;
    }
    return list === 'dates' ? 'from' : list;
  };

const SOME_DAY = '2026-07-11';

/** What to write in place of a faulty field. */
function seasonMends(field: string, form: URLSearchParams): readonly Readonly<Record<string, string>>[] {
  const row = /\d+$/.exec(field)?.[0] ?? '';
  switch (field.replace(/\d+$/, '')) {
    case 'cohort':
      return [{ cohort: 'some' }];
    case 'from': {
      const to = textOf(form, 'to') ?? SOME_DAY;
      return [
        { from: to, to, on: '' },
        { from: SOME_DAY, on: '' },
      ];
    }
    case 'to':
      return [{ to: textOf(form, 'from') ?? SOME_DAY, on: '' }];
    case 'date':
      return [{ [field]: SOME_DAY }];
    case 'place':
      return [
        { [field]: 'some' },
        { [`parties${row}`]: '1' },
        Object.fromEntries(LIMIT_FIELDS.map((name) => [`${name}${row}`, ''])),
      ];
    case 'spaces':
      return [{ [field]: '1' }, { [field]: '', [`parties${row}`]: '1' }];
    case 'seats':
    case 'parties':
    case 'size':
      return [{ [field]: '1' }];
    default:
      return [{ [field]: '' }];
  }
}

/** @param places what the stored routes state */
export const seasonRules = (places: SeasonPlaces): FormRules => ({
  fieldOf: seasonField,
  check: (form) => checkLimits(checkSeasonRequest(seasonOf(form)).limits ?? [], places),
  mends: seasonMends,
  unitOf: () => null,
});

interface SeasonStore {
  readonly cohorts: readonly StoredCohort[];
  readonly cohortsBeside: number;
  readonly routes: readonly { readonly trailhead: string | null }[];
  readonly solveS: number;
}

/** Names offered for limits at most (design). */
const MOST_TRAILHEADS = 200;

/** The form with what an address has in it; a first visit has every cohort ticked. */
export function seasonFormView(
  form: URLSearchParams,
  { cohorts, cohortsBeside, routes, solveS }: SeasonStore,
  fault: FormFault | null,
): SeasonFormView {
  const chosen = new Set(form.getAll('cohort'));
  const own = new Set(form.getAll('own'));
  const isFirst = form.size === 0;
  const rows = (fields: readonly string[], least: number) =>
    Math.max(least, (filledRows(form, fields).at(-1) ?? 0) + SPARE_ROWS);
  return {
    cohorts: cohorts
      .map(({ id, cohort }) => ({
        id,
        name: cohort.name,
        people: peopleText(cohort),
        isChosen: isFirst || chosen.has(id),
        notOn: textOf(form, `notOn-${id}`) ?? '',
        ledBy: textOf(form, `ledBy-${id}`) ?? '',
        hasOwnVehicles: own.has(id),
      }))
      .sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true })),
    cohortsBeside,
    routes: routes.length,
    values: valuesOf(form),
    weekdays: form.getAll('on').map(Number),
    rows: {
      dates: rows(DATE_FIELDS, FIRST_ROWS.dates),
      vehicles: rows(VEHICLE_FIELDS, FIRST_ROWS.vehicles),
      limits: rows(LIMIT_FIELDS, FIRST_ROWS.limits),
    },
    trailheads: [...new Set(routes.flatMap(({ trailhead }) => trailhead ?? []))]
      .sort((a, b) => a.localeCompare(b, 'en'))
      .slice(0, MOST_TRAILHEADS),
    solveS,
    fault,
  };
}
