/** The fields of a season, as they stand in an address, and what they ask for. */

import { placeRules, type SeasonPlaces } from '../../app/season.ts';
import { addDays, daysBetween, isRealDate, weekdayOf } from '../../earth/local-time.ts';
import { EngineError, faultsOf, together } from '../../errors.ts';
import { quote } from '../../ingest/quote.ts';
import { checkSeasonRequest, MOST_DATES, type SeasonRequest } from '../../ingest/season-file.ts';
import { type Message, message } from '../../message.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import type { FormRules } from '../fault.ts';
import { vehicleRow } from '../field.tsx';
import {
  COUNT,
  DATE,
  type FormField,
  type FormRows,
  FROM_ONE,
  filledRows,
  LINE,
  recordOf,
  textOf,
} from '../form-table.ts';

/** Rows of vehicles and of limits that are read at most; the request takes no more of either from a form (design). */
const MOST_ROWS = 60;

/** The fields of single days. */
const DAYS = Array.from({ length: MOST_DATES }, (_, i) => `date${i + 1}`);

const SEATS = { ...FROM_ONE, max: 100 };
const LIMITED = [
  ['trailhead', 'a trailhead'],
  ['who', 'an office that gives permits'],
] as const;

/** What the season is told of a cohort. */
export const cohortFields = (id: string): readonly FormField[] => [
  { id: `notOn-${id}`, label: 'Cannot go on', input: { maxLength: 1100 } },
  { id: `ledBy-${id}`, label: 'Labels of leaders', input: { maxLength: 650 } },
];

/** The form of a season by the parts of its page, for those cohorts; as many rows as an address fills, and one more. */
export function seasonForm(form: URLSearchParams, stored: readonly StoredCohort[]) {
  const rows = (at: string, least: number, row: FormRows['row']) => {
    const all = { at, count: MOST_ROWS, row };
    return { ...all, count: Math.max(least, (filledRows(all, form).at(-1) ?? 0) + 1) };
  };
  const named = stored.flatMap(({ id, cohort: { name } }) =>
    cohortFields(id).map((field) => ({ ...field, label: `${name}: ${field.label.toLowerCase()}` })),
  );
  const singles = DAYS.slice(0, Math.max(4, DAYS.findLastIndex((day) => textOf(form, day) !== null) + 2));
  const dates: readonly FormField[] = [
    { id: 'from', label: 'From', covers: ['/dates'], input: DATE },
    { id: 'to', label: 'To', input: DATE },
    ...singles.map((id, i) => ({ id, label: i === 0 ? 'Single days' : `Day ${i + 1}`, input: DATE })),
  ];
  const vehicles = rows('/vehicles', 2, (n) => [
    { id: `vehicle${n}`, label: `Vehicle ${n}: name`, at: '/name', input: LINE },
    ...vehicleRow(n, { label: `Vehicle ${n}: seats, the driver’s too`, covers: [''], input: SEATS }).map(
      (field) => (field.at === '/clearance' ? { ...field, isSecondary: true } : field),
    ),
  ]);
  const limits = rows('/limits', 1, (n) => [
    { id: `limitAt${n}`, label: `Limit ${n}: of`, at: null, options: LIMITED, isSecondary: true },
    {
      id: `place${n}`,
      label: `Limit ${n}: its name`,
      at: textOf(form, `limitAt${n}`) === 'who' ? '/who' : '/trailhead',
      covers: ['', '/who', '/trailhead'],
      input: { ...LINE, list: 'trailheads' },
    },
    { id: `parties${n}`, label: `Limit ${n}: parties a day`, at: '/partiesPerDay', input: COUNT },
    { id: `size${n}`, label: `Limit ${n}: people in a party`, at: '/groupSizeLimit', input: COUNT },
    { id: `spaces${n}`, label: `Limit ${n}: parking spaces`, at: '/parkingSpaces', input: COUNT },
  ]);
  const cohort: FormField = { id: 'cohort', label: 'Cohorts to place' };
  const name = {
    id: 'name',
    label: 'Name of the season',
    hint: 'stands over the printed board',
    input: LINE,
  };
  const table = [cohort, ...named, ...dates, vehicles, limits, name];
  return { dates, vehicles, limits, name, table };
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
  const single = DAYS.flatMap((day) => dayIn(form, day, wrong) ?? []);
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
  const { vehicles, limits, name } = seasonForm(form, []);
  return {
    ...recordOf([name, vehicles, limits], form, null),
    dates,
    cohorts: form.getAll('cohort').map((id) => ({
      id,
      notOn: listOf(textOf(form, `notOn-${id}`)),
      ledBy: listOf(textOf(form, `ledBy-${id}`)),
      ownVehicles: form.getAll('own').includes(id) ? true : null,
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

export function seasonRules(form: URLSearchParams): FormRules {
  const { table } = seasonForm(form, []);
  return {
    table,
    fieldsOf(pointer) {
      const [, list, index, part] = pointer.split('/');
      if (list !== 'cohorts') return null;
      const isOwn = part === 'notOn' || part === 'ledBy';
      return [isOwn ? `${part}-${form.getAll('cohort')[Number(index)]}` : 'cohort'];
    },
  };
}
