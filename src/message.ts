import type { Note } from './notes.ts';

/** What was found in place of a value, as far as a message shows it. */
export type Found = string | number | boolean | null | { readonly kind: 'list' | 'object' };

/** What a schema wants of a value. */
export type Wanted =
  | { readonly a: 'text' | 'boolean' | 'null' | 'object' | 'list' }
  | {
      readonly a: 'number';
      readonly whole: boolean;
      readonly from: number | null;
      readonly to: number | null;
    }
  | { readonly a: 'constant'; readonly values: readonly unknown[] }
  /** As its schema describes it; in a form, where nobody writes quotes, in other words. */
  | { readonly a: 'described'; readonly as: string; readonly inForm: string };

/** How a value departs from its schema: the rest of a sentence that begins with the field. */
export type Departure =
  | { readonly departs: 'unknown'; readonly near: string | null; readonly known: readonly string[] }
  | { readonly departs: 'missing' }
  | { readonly departs: 'wrong'; readonly wanted: Wanted; readonly found: Found }
  | { readonly departs: 'tooLong' | 'tooMany' | 'tooFew'; readonly limit: number; readonly found: number }
  | { readonly departs: 'repeated'; readonly found: Found };

/** A length, metres: told in kilometres where it names their decimals. */
interface MessageLength {
  readonly lengthM: number;
  readonly kmDecimals?: number;
}

/** The field that a sentence is about. Beside the field itself nobody has to name it. */
interface Subject {
  readonly field: string;
  /** Whether a sentence of its own follows. */
  readonly isHead?: boolean;
}

/** What a message names: texts and numbers as they are, everything else for the reader's units and place. */
export type MessageValue =
  | string
  | number
  | MessageLength
  | Subject
  | Departure
  | Message
  | { readonly notes: readonly Note[] }
  | { readonly reasons: readonly Message[] }
  /** Where a step of a line is named, not measured: every few metres. */
  | { readonly few: 'metres' }
  /** How whoever sent figures that look wrong says that they are right. */
  | { readonly act: 'confirm' };

/**
 * A sentence as data: its fixed parts, which together are its key, and the values between them. `text/errors.ts` puts it
 * into words.
 */
export interface Message {
  readonly pattern: readonly string[];
  readonly values: readonly MessageValue[];
}

/** @example message`the line is ${{ lengthM }} long` */
export const message = (pattern: readonly string[], ...values: readonly MessageValue[]): Message => ({
  pattern: [...pattern],
  values,
});

function plainValue(value: MessageValue): string {
  if (typeof value === 'string' || typeof value === 'number') return String(value);
  if ('pattern' in value) return plainText(value);
  if ('reasons' in value) return value.reasons.map(plainText).join('; ');
  if ('field' in value) return value.field;
  if ('lengthM' in value) return `${value.lengthM} m`;
  return JSON.stringify(value);
}

/** For a log, never for people. */
export const plainText = ({ pattern, values }: Message): string =>
  pattern.map((part, i) => (i === 0 ? part : `${plainValue(values[i - 1] ?? '')}${part}`)).join('');
