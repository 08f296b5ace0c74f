import { type Kysely, type SelectQueryBuilder, sql, type Transaction } from 'kysely';
import type { Tables } from './tables.ts';

/** What every repository is given. */
export interface StoreContext {
  readonly db: Kysely<Tables>;
  readonly nowMs: () => number;
  readonly newId: (prefix: 'rt' | 'co' | 'ou') => string;
}

export interface Page {
  /** Rows at most. */
  readonly limit: number;
  /** The row after which the list goes on; `null`: from the start. */
  readonly after: { readonly createdAtMs: number; readonly id: string } | null;
}

type Listed = 'routes' | 'cohorts' | 'outings';

/** Rows in the order in which they came: all, or those of a page. */
export function inOrder<T extends Listed, O>(query: SelectQueryBuilder<Tables, T, O>, page?: Page) {
  const ordered = query.orderBy(sql.ref('createdAtMs')).orderBy(sql.ref('id'));
  if (page === undefined) return ordered;
  const { limit, after } = page;
  const limited = ordered.limit(limit);
  if (after === null) return limited;
  return limited.where(sql<boolean>`(createdAtMs, id) > (${after.createdAtMs}, ${after.id})`);
}

/** Deletes a row with what hangs on it. False where it is gone or has another revision; `null` deletes any. */
export async function deleteRow(
  db: Kysely<Tables>,
  table: 'routes' | 'cohorts',
  id: string,
  revision: number | null,
): Promise<boolean> {
  let query = db.deleteFrom(table).where('id', '=', id);
  if (revision !== null) query = query.where('revision', '=', revision);
  return (await query.executeTakeFirst()).numDeletedRows > 0n;
}

/**
 * The time of a new row: now, but always later than the table's last row. So rows keep the order in which they
 * came even where the clock jumps back or several come in one millisecond.
 */
export async function nextTimeMs(trx: Transaction<Tables>, table: Listed, nowMs: number): Promise<number> {
  const { last } = await trx
    .selectFrom(table)
    .select(({ fn }) => fn.max('createdAtMs').as('last'))
    .executeTakeFirstOrThrow();
  return last === null ? nowMs : Math.max(nowMs, Number(last) + 1);
}
