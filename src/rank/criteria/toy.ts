import { at } from '../../array.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { LEAST_VALUE } from '../value.ts';
import { FITS, NOT_YET } from '../verdict.ts';

const MOST_M = 100_000;

export interface ToyReason extends AnyReason {
  readonly code: 'short' | 'long';
}

/** A toy, to show what a criterion takes: no day is longer than 100 km. */
export const toy: Criterion<'toy', ToyReason> = {
  name: 'toy',
  unit: 'm',
  isShifted: false,
  over({ table: { columns } }) {
    return (i, _shift, out) => {
      const lengthM = at(columns.distanceM, i);
      if (lengthM <= MOST_M) answer(out, 'short', FITS, 1);
      else answer(out, 'long', NOT_YET, LEAST_VALUE);
      compare(out, lengthM, MOST_M);
    };
  },
  reason: (_subject, { code }) => ({ code: code as ToyReason['code'] }),
};
