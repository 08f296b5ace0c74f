import { EngineError } from '../../errors.ts';
import type { FormFault } from '../../web/field.tsx';
import { knownError, problemOf } from '../problem.ts';

/** What is wrong with a file or a form, in a sentence with its place. @throws what is our own fault. */
export function faultText(thrown: unknown): string {
  const error = knownError(thrown);
  if (error.status >= 500) throw thrown;
  const { line, column } = error.place;
  const at = line === undefined ? '' : ` (line ${line}${column === undefined ? '' : `, column ${column}`})`;
  return `${problemOf(error, '').detail}${at}`;
}

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
  // Beside its field a fault need not name it as programs do.
  const text =
    field === null ? faultText(thrown) : faultText(thrown).replace(/^The \w+ field \/\S+ /, 'This ');
  return { field, text };
}
