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

/** How the faults of a form are told. */
export interface FormRules {
  /** The fields that a JSON Pointer into what was made of the form stands for; none: the form as a whole. */
  readonly fieldsOf: (form: URLSearchParams) => (pointer: string) => readonly string[];
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
 * All faults of a form, the first of each field.
 *
 * @throws what is not the fault of what was sent, or of somebody else's change.
 */
export function formFaults(thrown: unknown, form: URLSearchParams, rules: FormRules): FormFault {
  if (
    !(thrown instanceof EngineError) ||
    thrown.code === 'precondition-failed' ||
    thrown.code === 'not-found'
  ) {
    throw thrown;
  }
  const fieldsOf = rules.fieldsOf(form);
  const found = new Map<string, FieldFault>();
  for (const error of thrown.all) {
    const { pointer } = error.place;
    const fields = pointer === undefined ? [] : fieldsOf(pointer);
    // What is wrong with a form as a whole has to be mended before the rest can be read rightly.
    if (fields.length === 0 && found.size === 0) return { field: null, text: faultText(error) };
    const text = besideField(faultText(error));
    for (const field of fields) {
      if (found.has(field)) continue;
      const unit = rules.unitOf(field);
      found.set(field, {
        field,
        text: unit === null ? text : inUnit(text, unit, form.get(field)?.trim() ?? ''),
      });
    }
  }
  const [first, ...more] = [...found.values()].slice(0, MOST_FAULTS);
  return first === undefined ? { field: null, text: faultText(thrown) } : { ...first, more };
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
