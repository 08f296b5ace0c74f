/** The fields of a season, as they stand in an address, and what they ask for. */

import { placeRules, type SeasonPlaces } from '../../app/season.ts';
import { addDays, daysBetween, isRealDate, weekdayOf } from '../../earth/local-time.ts';
import { EngineError, faultsOf, together } from '../../errors.ts';
import { quote } from '../../ingest/quote.ts';
import { checkSeasonRequest, MOST_DATES, type SeasonRequest } from '../../ingest/season-file.ts';
import { type Message, message } from '../../message.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { peopleText } from '../../text/people-words.ts';
import type { FormRules } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { numberOf, textOf, valuesOf } from '../form-values.ts';
import type { SeasonFormView } from './state.ts';

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

const refusal = (field: string, reason: string | Message): EngineError =>
  new EngineError('bad-season', reason, { pointer: `/${field}` });

/** The day in a field; `null`: none, `undefined`: none that is right. */
function dayIn(form: URLSearchParams, field: string, wrong: EngineError[]): string | null | undefined {
  const text = textOf(form, field);
  if (text === null || isRealDate(text)) return text;
  wrong.push(refusal(field, message`${quote(text)} is no day of the calendar. Write it as 2026-07-11.`));
  return undefined;
}

/** The days from one to another, those of the ticked days of the week. */
function daysFromTo(form: URLSearchParams, wrong: EngineError[]): readonly string[] {
  const refuse = (field: string, reason: string | Message) => {
    wrong.push(refusal(field, reason));
    return [];
  };
  const from = dayIn(form, 'from', wrong);
  const to = dayIn(form, 'to', wrong);
  if (from === undefined || to === undefined || (from === null && to === null)) return [];
  if (from === null) return refuse('from', 'The first day is missing. Write it, or leave the last one out.');
  if (to === null) return refuse('to', 'The last day is missing. Write it, or make it a single day.');
  const days = daysBetween(from, to);
  if (days < 0) return refuse('to', message`The last day, ${to}, lies before the first. Change one of them.`);
  const weekdays = new Set(form.getAll('on'));
  const found: string[] = [];
  for (let day = 0; day <= days && found.length <= MOST_DATES; day += 1) {
    const date = addDays(from, day);
    if (weekdays.size === 0 || weekdays.has(String(weekdayOf(date)))) found.push(date);
  }
  if (found.length > MOST_DATES)
    return refuse(
      'to',
      message`These are more than ${MOST_DATES} dates. Tick days of the week, or end earlier.`,
    );
  if (found.length === 0)
    return refuse('to', 'None of the days of the week that are ticked lies in this time.');
  return found;
}

function datesOf(form: URLSearchParams, wrong: EngineError[]): readonly string[] {
  const before = wrong.length;
  const fromTo = daysFromTo(form, wrong);
  const single = filledRows(form, DATE_FIELDS).flatMap((n) => dayIn(form, `date${n}`, wrong) ?? []);
  const dates = [...new Set([...fromTo, ...single])].sort();
  if (wrong.length > before) return dates;
  if (dates.length === 0)
    wrong.push(refusal('from', 'No date is chosen. Write a first and a last day, or single days.'));
  if (dates.length > MOST_DATES)
    wrong.push(
      refusal('from', message`These are ${dates.length} dates; one board takes ${MOST_DATES} at most.`),
    );
  return dates;
}

function seasonOf(form: URLSearchParams, dates: readonly string[]): unknown {
  const own = new Set(form.getAll('own'));
  const vehicles = filledRows(form, VEHICLE_FIELDS).slice(0, MOST_ROWS);
  const limits = filledRows(form, LIMIT_FIELDS).slice(0, MOST_ROWS);
  return {
    name: textOf(form, 'name'),
    dates,
    cohorts: form.getAll('cohort').map((id) => ({
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

/**
 * The season that the fields ask for.
 *
 * @param places what the stored routes state; `null`: limits are not held against it
 * @throws EngineError `bad-season` with all faults; its pointer names the field itself for what only the form can say.
 */
export function seasonAsked(form: URLSearchParams, places: SeasonPlaces | null): SeasonRequest {
  const wrong: EngineError[] = [];
  if (!form.has('cohort')) wrong.push(refusal('cohort', 'No cohort is chosen. Tick one at least.'));
  const dates = datesOf(form, wrong);
  const check = () =>
    checkSeasonRequest(seasonOf(form, dates), (asked, faults) => {
      if (places !== null) placeRules(asked, places, faults);
    });
  if (wrong.length === 0) return check();
  const isTold = (fault: EngineError): boolean =>
    (fault.place.pointer === '/cohorts' && !form.has('cohort')) ||
    (fault.place.pointer === '/dates' && dates.length === 0);
  throw together([...wrong, ...faultsOf(check).filter((fault) => !isTold(fault))]);
}

const LIMIT_PARTS: Readonly<Record<string, string>> = {
  partiesPerDay: 'parties',
  groupSizeLimit: 'size',
  parkingSpaces: 'spaces',
};

/** Where the faults of a season are told. */
export const SEASON_RULES: FormRules = {
  fieldsOf: (form) => (pointer) => {
    const [, list = '', index = '', part = ''] = pointer.split('/');
    if (list === 'cohorts' && index !== '') {
      const isOwn = part === 'notOn' || part === 'ledBy';
      return [isOwn ? `${part}-${form.getAll('cohort')[Number(index)]}` : 'cohort'];
    }
    if (list === 'vehicles' && index !== '') {
      const n = filledRows(form, VEHICLE_FIELDS)[Number(index)];
      return [part === 'name' ? `vehicle${n}` : part === 'clearance' ? `clearance${n}` : `seats${n}`];
    }
    if (list === 'limits' && index !== '') {
      const n = filledRows(form, LIMIT_FIELDS)[Number(index)];
      return [`${LIMIT_PARTS[part] ?? 'place'}${n}`];
    }
    return [list === 'dates' ? 'from' : list];
  },
  unitOf: () => null,
};

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
