import type { FastifyRequest } from 'fastify';
import { EngineError } from '../errors.ts';
import { knownError } from '../http/problem.ts';
import { errorText } from '../text/errors.ts';
import type { UnitSystem } from '../units.ts';
import type { FieldFault, FormFault } from './field.tsx';
import { type FormTable, fieldsAt, fieldsIn, shownValues } from './form-table.ts';

/** Faults shown of one form at most (design). */
const MOST_FAULTS = 20;

/** What is wrong with a file or a form, in a sentence with its place. @throws what is our own fault. */
export function faultText(thrown: unknown, units: UnitSystem): string {
  const error = knownError(thrown);
  if (error.status >= 500) throw thrown;
  const { line, column } = error.place;
  const at = line === undefined ? '' : ` (line ${line}${column === undefined ? '' : `, column ${column}`})`;
  return `${errorText(error, units, { at: 'form' })}${at}`;
}

/** Why a part of a page that has begun already is not there; what is our own fault is logged. */
export function lateFaultText(thrown: unknown, { log }: FastifyRequest, units: UnitSystem): string {
  const error = knownError(thrown);
  if (error.status >= 500) log.error({ err: thrown }, 'request failed');
  return errorText(error, units);
}

export interface FormRules {
  readonly table: FormTable;
  /** The fields that a JSON Pointer stands for, where the table does not say it. */
  readonly fieldsOf?: (pointer: string, form: URLSearchParams) => readonly string[] | null;
  /** Other words for a fault at a pointer than a file's or a body's; none: `null`. */
  readonly wordsAt?: (pointer: string) => string | null;
}

/**
 * All faults of a form, the first of each field.
 *
 * @throws what is not the fault of what was sent, or of somebody else's change.
 */
export function formFaults(
  thrown: unknown,
  form: URLSearchParams,
  { table, fieldsOf, wordsAt }: FormRules,
  units: UnitSystem,
): FormFault {
  if (!(thrown instanceof EngineError) || isStale(thrown) || thrown.code === 'not-found') throw thrown;
  const all = fieldsIn(table);
  const found = new Map<string, FieldFault>();
  for (const error of thrown.all) {
    const { pointer } = error.place;
    const fields = pointer === undefined ? [] : (fieldsOf?.(pointer, form) ?? fieldsAt(table, form, pointer));
    // What is wrong with a form as a whole has to be mended before the rest can be read rightly.
    if (fields.length === 0 && found.size === 0) return { field: null, text: faultText(error, units) };
    const words = wordsAt?.(pointer ?? '') ?? null;
    for (const field of fields) {
      if (found.has(field)) continue;
      const { unit, typedIn = unit } = all.find(({ id }) => id === field) ?? {};
      const figure = typedIn === undefined ? null : { ...typedIn, typed: form.get(field)?.trim() ?? '' };
      found.set(field, { field, text: words ?? errorText(error, units, { at: 'field', figure }) });
    }
  }
  const [first, ...more] = [...found.values()].slice(0, MOST_FAULTS);
  return first === undefined ? { field: null, text: faultText(thrown, units) } : { ...first, more };
}

/** Whether somebody has changed what a form is about since it was opened. */
export const isStale = (thrown: unknown): boolean =>
  thrown instanceof EngineError && thrown.code === 'precondition-failed';

/** The fault of a form that somebody else was quicker with: nothing typed is lost, nothing stored is lost unseen. */
export function staleFault(table: FormTable, form: URLSearchParams, record: unknown): FormFault {
  const now = shownValues(table, record);
  const meanwhile = fieldsIn(table)
    .map((field) => ({
      field: field.id,
      stored: now[field.id] ?? '',
      sent: form.getAll(field.id).join(' ') || (field.options?.[0]?.[0] ?? ''),
    }))
    .filter(({ stored, sent }) => stored.trim() !== sent.trim());
  const differs =
    meanwhile.length === 0
      ? 'In this form nothing differs from it.'
      : 'Sending it again puts this form in place of what is stored. These fields differ, each with what is stored now beside it:';
  return {
    field: null,
    text: `Somebody has changed this since you opened it. What you typed is still here. ${differs}`,
    meanwhile,
  };
}
