import type { Kysely, Transaction } from 'kysely';
import type { Tables } from './tables.ts';

/** What every repository is given. */
export interface StoreContext {
  readonly db: Kysely<Tables>;
  readonly nowMs: () => number;
  readonly newId: (prefix: 'rt' | 'co' | 'ou') => string;
}

/** Where a list goes on: after this row, in the order of creation. */
interface Position {
  readonly createdAtMs: number;
  readonly id: string;
}

export interface Page {
  /** Rows at most. */
  readonly limit: number;
  /** `null`: from the start. */
  readonly after: Position | null;
}

/**
 * The time of a new row: now, but always later than the table's last row. So rows keep the order in which they
 * came even where the clock jumps back or several come in one millisecond.
 */
export async function nextTimeMs(
  trx: Transaction<Tables>,
  table: 'routes' | 'cohorts' | 'outings',
  nowMs: number,
): Promise<number> {
  const { last } = await trx
    .selectFrom(table)
    .select(({ fn }) => fn.max('createdAtMs').as('last'))
    .executeTakeFirstOrThrow();
  return last === null ? nowMs : Math.max(nowMs, Number(last) + 1);
}
