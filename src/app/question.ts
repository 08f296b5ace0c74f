/** What a ranking is asked, checked: the day, the time of day, changes to try. */

import { withChanges } from '../design.ts';
import { isRealDate } from '../earth/local-time.ts';
import { EngineError, type ErrorPlace } from '../errors.ts';
import { checkWhatIf } from '../ingest/what-if.ts';
import { message } from '../message.ts';
import type { FitRequest } from '../rank/readiness.ts';
import { outingByHand } from './recordings.ts';

/** @throws EngineError `bad-date` unless it is a real calendar day, `YYYY-MM-DD`. */
export function checkDate(text: string): string {
  if (!isRealDate(text) || text < '1900' || text >= '2200') {
    throw new EngineError(
      'bad-date',
      message`“${text.slice(0, 40)}” is not a day from 1900 to 2199: write a real one as YYYY-MM-DD, for example 2026-07-11`,
    );
  }
  return text;
}

/** @throws EngineError `bad-date` where the spare date (`null`: none) is not after the trip's. */
export function checkSpareDate(spareDate: string | null, date: string, place: ErrorPlace = {}): void {
  if (spareDate === null || spareDate > date) return;
  throw new EngineError(
    'bad-date',
    message`the spare date ${spareDate} is not after the trip’s, ${date}`,
    place,
  );
}

/** @throws EngineError `usage` unless it is a time of day `HH:MM`. */
export function checkClock(text: string): string {
  if (!/^([01]\d|2[0-3]):[0-5]\d$/.test(text)) {
    throw new EngineError(
      'usage',
      message`“${text.slice(0, 40)}” is not a time of day: write it as HH:MM, for example 04:30`,
    );
  }
  return text;
}

/**
 * The question as changes that came from outside would have it; nothing is stored.
 * @throws EngineError `bad-what-if`, `bad-date`, `outing-implausible`.
 */
export function whatIf({ record, date, design }: FitRequest, value: unknown): FitRequest {
  const { changes, cohort } = checkWhatIf(value, record.cohort);
  const asked = checkDate(changes.date ?? date);
  const outings = [...record.outings, ...(changes.outings ?? []).map(outingByHand)];
  const weights = Object.entries(changes.weights ?? {}).filter(([, weight]) => weight !== null);
  return {
    record: { cohort, outings, start: changes.start ?? record.start ?? null },
    date: asked,
    design:
      weights.length === 0
        ? design
        : withChanges(
            { version: `${design.version}, weights of the request`, weights: Object.fromEntries(weights) },
            design,
          ),
  };
}
