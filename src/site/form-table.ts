/** A form as a table of its fields: how each is asked, and where its value lies in the record that the form describes. */
import type { InputHTMLAttributes } from 'preact';
import { isObject } from '../ingest/json-text.ts';
import { M_PER_FT, M_PER_MILE, type UnitSystem } from '../units.ts';

/** A text, or `null` where nothing but blanks was written. */
export function textOf(form: URLSearchParams, name: string): string | null {
  const text = form.get(name)?.trim() ?? '';
  return text === '' ? null : text;
}

/** A number; what is none stays the text that it is, for the reader of the whole to refuse it by its place. */
export function numberOf(form: URLSearchParams, name: string): number | string | null {
  const text = textOf(form, name);
  if (text === null) return null;
  const value = Number(text);
  return Number.isFinite(value) ? value : text;
}

/** How a length stands in a field of its unit, and how it is read from there. */
export interface FieldUnit {
  readonly name: string;
  readonly words?: string;
  readonly perUnit: number;
  readonly decimals: number;
}

/** Heights: metres or feet; lengths of roads, stored in km: km or miles. */
export const heightUnit = (units: UnitSystem): FieldUnit =>
  units === 'us'
    ? { name: 'ft', words: 'feet', perUnit: M_PER_FT, decimals: 0 }
    : { name: 'm', words: 'metres', perUnit: 1, decimals: 3 };
export const roadUnit = (units: UnitSystem): FieldUnit =>
  units === 'us'
    ? { name: 'mi', words: 'miles', perUnit: M_PER_MILE / 1000, decimals: 1 }
    : { name: 'km', words: 'km', perUnit: 1, decimals: 3 };

export interface FormField {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  readonly class?: string;
  /** To choose from, the first where nothing is said. */
  readonly options?: readonly (readonly [value: string, text: string])[];
  /** A text without it, by its attributes anything else that a line takes. */
  readonly input?: Omit<InputHTMLAttributes, 'value'>;
  /** JSON Pointer into the record; left out: `/id`, `null`: it has no place there. */
  readonly at?: string | null;
  /** Pointers whose faults are told here too. */
  readonly covers?: readonly string[];
  readonly isLong?: boolean;
  /** A row in which it alone says something is empty. */
  readonly isSecondary?: boolean;
  /** What the record has of a text: the words in it, its lines, or whether it is `true`. */
  readonly holds?: 'words' | 'lines' | 'yesNo';
  /** Of a length that the record has in metres or kilometres. */
  readonly unit?: FieldUnit;
  /** Of a figure that is read as it was typed; for the words of its fault. */
  readonly typedIn?: FieldUnit;
}

/** A list of the record whose entries have rows in the form, counted from 1. */
export interface FormRows {
  readonly at: string;
  readonly count: number;
  /** Pointers are into the entry. */
  readonly row: (n: number) => readonly FormField[];
}

export type FormTable = readonly (FormField | FormRows)[];

export const COUNT = { type: 'number', min: 0, step: 1 } as const;
export const FROM_ONE = { type: 'number', min: 1, step: 1 } as const;
export const AMOUNT = { type: 'number', min: 0, step: 'any' } as const;
export const FIGURE = { type: 'number', step: 'any' } as const;
export const LINE = { maxLength: 200 } as const;
export const DATE = { type: 'date' } as const;
export const TIME = { type: 'time' } as const;

/** To choose from, or to leave open. */
export const choices = (named: Readonly<Record<string, string>>, open = 'not stated') =>
  [['', open], ...Object.entries(named)] as const;

export const labelOf = ({ label, unit, typedIn = unit }: FormField): string =>
  typedIn?.words === undefined ? label : `${label}, ${typedIn.words}`;

const isRows = (one: FormField | FormRows): one is FormRows => 'row' in one;
const pointerOf = ({ id, at = `/${id}` }: FormField): string => at ?? '/-';

export const eachRow = ({ count, row }: FormRows): readonly (readonly FormField[])[] =>
  Array.from({ length: count }, (_, i) => row(i + 1));

/** Every field, those of rows with their pointers into the whole record. */
export const fieldsIn = (table: FormTable): readonly FormField[] =>
  table.flatMap((one) =>
    isRows(one)
      ? eachRow(one).flatMap((row, i) =>
          row.map((field) => ({ ...field, at: `${one.at}/${i}${pointerOf(field)}` })),
        )
      : one,
  );

export type FormValues = Readonly<Record<string, string>>;

function shownValue(value: unknown, { unit, holds, options }: FormField): string {
  if (typeof value === 'number' && unit !== undefined)
    return String(Number((value / unit.perUnit).toFixed(unit.decimals)));
  if (Array.isArray(value)) return value.join(holds === 'lines' ? '\n' : ' ');
  return value == null ? (options?.[0]?.[0] ?? '') : String(value);
}

const valueAt = (record: unknown, pointer: string): unknown =>
  pointer
    .split('/')
    .slice(1)
    .reduce<unknown>((value, name) => (value as Record<string, unknown> | null | undefined)?.[name], record);

export const shownValues = (table: FormTable, record: unknown): FormValues =>
  Object.fromEntries(
    fieldsIn(table).map((field) => [field.id, shownValue(valueAt(record, pointerOf(field)), field)]),
  );

function saidIn(field: FormField, form: URLSearchParams, stored: unknown): unknown {
  const { id, unit, input, options, holds } = field;
  const kept = valueAt(stored, pointerOf(field)) ?? null;
  // A length that was not touched is the stored one: no rounding by the way.
  if (unit !== undefined && (form.get(id) ?? '') === shownValue(kept, field)) return kept;
  if (input?.type === 'number') {
    const value = numberOf(form, id);
    const isLength = typeof value === 'number' && unit !== undefined;
    return isLength ? Number((value * unit.perUnit).toFixed(3)) : value;
  }
  const text = textOf(form, id);
  if (holds === 'yesNo') return text === null ? null : text === 'true';
  if (holds !== undefined) {
    const parts = form.getAll(id).flatMap((one) => one.split(holds === 'lines' ? /[\r\n]+/ : /[\s,;]+/));
    const said = parts.map((part) => part.trim()).filter((part) => part !== '');
    return said.length === 0 ? null : said;
  }
  if (text !== null) return text;
  // What must be there is refused by its place as an empty text.
  return input?.required === true ? '' : options?.[0]?.[0] || null;
}

const isEmpty = (value: unknown): boolean =>
  isObject(value) && Object.values(value).every((part) => part === null);

/** What the fields say; a part of the record, or a list of it, of which nothing is said is `null`. */
export function recordOf(table: FormTable, form: URLSearchParams, stored: unknown): Record<string, unknown> {
  const record: Record<string, unknown> = {};
  for (const one of table) {
    if (isRows(one)) {
      const entries = filledRows(one, form).map((n) => recordOf(one.row(n), form, null));
      record[one.at.slice(1)] = entries.length === 0 ? null : entries;
      continue;
    }
    if (one.at === null) continue;
    const [, name = '', part] = pointerOf(one).split('/');
    const said = saidIn(one, form, stored);
    record[name] = part === undefined ? said : { ...(record[name] as object | undefined), [part]: said };
  }
  return Object.fromEntries(
    Object.entries(record).map(([name, value]) => [name, isEmpty(value) ? null : value]),
  );
}

/** The numbers of the rows in which something is said: a choice that was left alone says nothing. */
export const filledRows = (rows: FormRows, form: URLSearchParams): readonly number[] =>
  eachRow(rows).flatMap((row, i) => {
    const isSaid = ({ id, options, isSecondary = false }: FormField) =>
      !isSecondary && ![null, options?.[0]?.[0]].includes(textOf(form, id));
    return row.some(isSaid) ? i + 1 : [];
  });

/** The fields at which a fault of the record is told; none: the form as a whole. */
export function fieldsAt(table: FormTable, form: URLSearchParams, pointer: string): readonly string[] {
  const rows = table.filter(isRows).find(({ at }) => pointer.startsWith(`${at}/`));
  if (rows !== undefined) {
    const [, , index = '', ...parts] = pointer.split('/');
    const n = filledRows(rows, form)[Number(index)];
    return n === undefined ? [] : fieldOf(rows.row(n), parts.map((part) => `/${part}`).join(''));
  }
  return pointer === '' ? [] : fieldOf(fieldsIn(table), pointer);
}

function fieldOf(fields: readonly FormField[], pointer: string): readonly string[] {
  const found =
    fields.find((field) => pointerOf(field) === pointer || field.covers?.includes(pointer)) ??
    fields.find((field) => pointer.startsWith(`${pointerOf(field)}/`)) ??
    fields.find((field) => pointerOf(field).startsWith(`${pointer}/`));
  return found === undefined ? [] : [found.id];
}

/** The fields of a form by name, the first of each; to show it again as it was sent. */
export const valuesOf = (form: URLSearchParams): Readonly<Record<string, string>> =>
  Object.fromEntries([...form].reverse());
