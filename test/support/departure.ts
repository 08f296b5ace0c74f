import type { EngineError } from '../../src/errors.ts';
import type { Departure } from '../../src/message.ts';

/** How the value that an error is about departs from its schema; `null`: it does not. */
export function departureIn({ reason }: EngineError): Departure | null {
  for (const value of reason.values) if (typeof value === 'object' && 'departs' in value) return value;
  return null;
}
