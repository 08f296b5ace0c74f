import { EngineError } from '../../errors.ts';
import type { FormFault, FormValues } from '../../web/field.tsx';
import { knownError, problemOf } from '../problem.ts';

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
    .replace(/^This must be (.*); found null\.$/, 'This is missing: it must be $1.')
    .replace(/^(This must be an? [^;]*?) in quotes such as /, '$1 such as ');

/**
 * The fault of a form, at its field.
 *
 * @param fields the field of each JSON Pointer of what was made of the form
 * @throws what is not the fault of what was sent, or of somebody else's change.
 */
export function formFault(thrown: unknown, fields: (pointer: string) => string | null): FormFault {
  if (
    !(thrown instanceof EngineError) ||
    thrown.code === 'precondition-failed' ||
    thrown.code === 'not-found'
  ) {
    throw thrown;
  }
  const { pointer } = thrown.place;
  const field = pointer === undefined ? null : fields(pointer);
  return { field, text: field === null ? faultText(thrown) : besideField(faultText(thrown)) };
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
