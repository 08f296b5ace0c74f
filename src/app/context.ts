/** What the use cases of the service stand on. */

import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import { USUAL_KEEP_DAYS } from '../config.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { ROW_COLUMNS } from '../rank/route-row.ts';
import { dayOf } from '../storage/last-trip.ts';
import type { Store } from '../storage/store.ts';
import { METHOD_VERSION } from '../views/shortlist-view.ts';
import { type ExplainedFits, explainedFits } from './explained-fits.ts';
import { type GroundMaps, groundMaps } from './ground-maps.ts';
import type { Ground } from './measure.ts';
import { type Rankings, rankings, type SampleOrder } from './rankings.ts';

export interface ContextParts {
  readonly store: Store;
  readonly ground: Ground;
  readonly nowMs: () => number;
  /** A cohort is erased so many days after its last trip. */
  readonly keepDays?: number;
  /** How it is sampled how sure an order is; missing: here, while everything else waits. */
  readonly sample?: SampleOrder;
}

/** The parts, and what is kept between questions. */
export interface Context extends Required<Omit<ContextParts, 'sample'>> {
  /** Names what measures depend on beside the line: methods, settings and tiles. Another name: measure again. */
  readonly method: string;
  readonly rankings: Rankings;
  readonly explained: ExplainedFits;
  readonly maps: GroundMaps;
  /** Lets one season board be worked out at a time. */
  readonly inTurn: ReturnType<typeof oneAtATime>;
}

/** So many season boards may wait for their turn (design). */
const BOARDS_WAITING = 4;

export function openContext({
  store,
  ground,
  nowMs,
  keepDays = USUAL_KEEP_DAYS,
  sample,
}: ContextParts): Context {
  return {
    store,
    ground,
    nowMs,
    keepDays,
    method: methodOf(ground),
    rankings: rankings(store.routes, sample),
    explained: explainedFits(store.routes),
    maps: groundMaps(ground.surface),
    inTurn: oneAtATime(BOARDS_WAITING),
  };
}

function methodOf({ surface, design }: Ground): string {
  const tiles = surface.sources.map(({ path, notes: _, ...header }) =>
    // By name: a header that was kept says the same in another order.
    Object.entries({ ...header, file: basename(path) }).sort(([a], [b]) => (a < b ? -1 : 1)),
  );
  const hash = createHash('sha256').update(JSON.stringify([METHOD_VERSION, ROW_COLUMNS, design, tiles]));
  return `${METHOD_VERSION}-${hash.digest('hex').slice(0, 16)}`;
}

/** The day of the clock in UTC, `YYYY-MM-DD`. */
export const todayOf = ({ nowMs }: Pick<Context, 'nowMs'>): string => dayOf(nowMs());

export function found<T>(what: T | null, name: string): T {
  if (what === null) throw new EngineError('not-found', message`there is no such ${name}`);
  return what;
}

/** A conditional write met no row: it is gone, or has another revision by now. */
export function stale(name: string): EngineError {
  return new EngineError(
    'precondition-failed',
    message`the ${name} has changed or is gone: fetch it again and repeat`,
  );
}

/**
 * Does long pieces of work one after another, so that many requests do not take all of the machine at once.
 *
 * @param mostWaiting one that would wait behind more is refused
 * @throws EngineError `unavailable`
 */
function oneAtATime(mostWaiting: number) {
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();
  return async <T>(work: () => Promise<T>): Promise<T> => {
    if (waiting > mostWaiting)
      throw new EngineError('unavailable', 'other boards are being worked out: ask again in a minute');
    waiting += 1;
    const mine = last.then(work, work);
    last = mine.catch(() => {});
    try {
      return await mine;
    } finally {
      waiting -= 1;
    }
  };
}
