import { EngineError } from '../errors.ts';
import { knownError, problemOf } from '../http/problem.ts';
import type { FieldFault, FormFault, FormValues } from './field.tsx';
import type { FieldUnit } from './form-values.ts';

/** Faults shown of one form at most (design). */
const MOST_FAULTS = 20;

/** What is wrong with a file or a form, in a sentence with its place. @throws what is our own fault. */
export function faultText(thrown: unknown): string {
  const error = knownError(thrown);
  if (error.status >= 500) throw thrown;
  const { line, column } = error.place;
  const at = line === undefined ? '' : ` (line ${line}${column === undefined ? '' : `, column ${column}`})`;
  return `${problemOf(error, '').detail}${at}`;
}

/** Beside its field a fault need not name it as programs do, nor speak of quotes and null. */
const besideField = (text: string): string =>
  text
    .replace(/^The [\w ]+ (?:field|attribute) \/[^\s:]+ /, 'This ')
    .replace(/^The [\w ]+ (?:field|attribute) \/[^\s:]+: (.)/, (_, first: string) => first.toUpperCase())
    .replace(/^The outing needs a "track".*/, 'This is missing: a day by hand has its length and its climb.')
    .replace(/^This must be (.*); found null\.$/, 'This is missing: it must be $1.')
    .replace(/^(This must be an? [^;]*?) in quotes such as /, '$1 such as ');

/** The field of a JSON Pointer into what was made of a form. */
type FieldOf = (pointer: string) => string | null;

/** What a form may say, and how its faults are told. */
export interface FormRules {
  readonly fieldOf: (form: URLSearchParams) => FieldOf;
  /** Checks without storing. @throws EngineError the first fault. */
  readonly check: (form: URLSearchParams) => unknown;
  /**
   * What to write in place of a faulty field so that the check goes on behind it, one after the other while the field
   * is still refused. An empty text leaves a field out.
   */
  readonly mends: (field: string, form: URLSearchParams) => readonly Readonly<Record<string, string>>[];
  readonly unitOf: (field: string) => FieldUnit | null;
}

const inEnglish = new Intl.NumberFormat('en', { maximumFractionDigits: 3 });

/** Bounds as a field of this unit takes them, and what was typed there. */
function inUnit(text: string, { perUnit, name }: FieldUnit, typed: string): string {
  return text
    .replace(/ from (-?[\d.]+) to (-?[\d.]+)/, (_, least: string, most: string) => {
      const [from, to] = [Math.ceil(Number(least) / perUnit), Math.floor(Number(most) / perUnit)];
      return ` from ${inEnglish.format(from)} to ${inEnglish.format(to)} ${name}`;
    })
    .replace(/; found -?[\d.e+]+\.$/, `; found ${typed}.`);
}

/**
 * The fault of a form, at its field.
 *
 * @throws what is not the fault of what was sent, or of somebody else's change.
 */
export function formFault(thrown: unknown, fieldOf: FieldOf): FieldFault {
  if (
    !(thrown instanceof EngineError) ||
    thrown.code === 'precondition-failed' ||
    thrown.code === 'not-found'
  ) {
    throw thrown;
  }
  const { pointer } = thrown.place;
  const field = pointer === undefined ? null : fieldOf(pointer);
  return { field, text: field === null ? faultText(thrown) : besideField(faultText(thrown)) };
}

/**
 * All faults of a form: the one that was met, and those behind it, which are met when the fields before them are
 * mended. Nothing is stored for it.
 *
 * @throws what is not the fault of what was sent, or of somebody else's change.
 */
export function formFaults(thrown: unknown, form: URLSearchParams, rules: FormRules): FormFault {
  const mended = new URLSearchParams(form);
  const told = (error: unknown): FieldFault => {
    const fault = formFault(error, rules.fieldOf(mended));
    const unit = fault.field === null ? null : rules.unitOf(fault.field);
    return unit === null
      ? fault
      : { ...fault, text: inUnit(fault.text, unit, form.get(fault.field ?? '')?.trim() ?? '') };
  };
  const found = new Map<string | null, FieldFault>();
  const tried = new Map<string, number>();
  let next: FieldFault | null = told(thrown);
  while (next !== null) {
    const { field }: FieldFault = next;
    // What is wrong with the whole of a form may come of what was put in place here.
    if (field === null && found.size > 0) break;
    if (!found.has(field)) found.set(field, next);
    if (field === null || found.size === MOST_FAULTS) break;
    const turn = tried.get(field) ?? 0;
    const mend = rules.mends(field, mended)[turn];
    if (mend === undefined) break;
    tried.set(field, turn + 1);
    for (const [name, text] of Object.entries(mend)) {
      if (text === '') mended.delete(name);
      else mended.set(name, text);
    }
    next = null;
    try {
      rules.check(mended);
    } catch (error) {
      next = told(error);
    }
  }
  const [first = { field: null, text: faultText(thrown) }, ...more] = found.values();
  return { ...first, more };
}

/** Whether somebody has changed what a form is about since it was opened. */
export const isStale = (thrown: unknown): boolean =>
  thrown instanceof EngineError && thrown.code === 'precondition-failed';

/** The fault of a form that somebody else was quicker with: nothing typed is lost, nothing stored is lost unseen. */
export function staleFault(
  sent: FormValues,
  stored: FormValues,
  labels: Readonly<Record<string, string>>,
): FormFault {
  const meanwhile = Object.entries(labels)
    .map(([field, label]) => ({ field, label, stored: stored[field] ?? '' }))
    .filter((one) => one.stored.trim() !== (sent[one.field] ?? '').trim());
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
