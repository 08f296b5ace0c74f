import type { Selectable, Transaction } from 'kysely';
import type { Outing } from '../capability/outing.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import { nextTimeMs, type Page, type StoreContext } from './context.ts';
import { dayOf, keptFrom } from './last-trip.ts';
import type { CohortTable, Tables } from './tables.ts';

/** A cohort as it is kept: its outings stand in their own table. */
export type Cohort = Omit<CohortInput, 'outings'>;

export interface StoredCohort {
  readonly id: string;
  readonly revision: number;
  readonly createdAtMs: number;
  readonly updatedAtMs: number;
  /** Latest day that it walked or asked about, `YYYY-MM-DD`. */
  readonly lastTripDate: string;
  readonly cohort: Cohort;
}

export interface CohortRepository {
  /** Stores a cohort and its first outings, all or nothing. */
  add(cohort: Cohort, outings: readonly Outing[]): Promise<StoredCohort>;
  get(id: string): Promise<StoredCohort | null>;
  list(page: Page): Promise<readonly StoredCohort[]>;
  /**
   * `null` where the cohort is gone or has another revision by now. A label that the cohort no longer holds leaves
   * its outings too.
   */
  replace(id: string, revision: number, cohort: Cohort): Promise<StoredCohort | null>;
  /** Takes note of a day that was asked about, where it is later than the last one. */
  noteTrip(id: string, date: string): Promise<void>;
  /** Deletes the cohorts whose last day lies before this one, and their outings. Gives the number of cohorts. */
  deleteLastTripBefore(date: string): Promise<number>;
  /**
   * Removes a label from the cohort and from its outings; an outing with nobody else is deleted. False where the cohort
   * is gone or holds no such label.
   */
  eraseMember(id: string, label: string): Promise<boolean>;
  /** Deletes its outings too. False where the cohort is gone or has another revision; `null` deletes any. */
  delete(id: string, revision: number | null): Promise<boolean>;
}

function storedCohort(row: Selectable<CohortTable>): StoredCohort {
  const { id, revision, createdAtMs, updatedAtMs, lastTripDate } = row;
  return { id, revision, createdAtMs, updatedAtMs, lastTripDate, cohort: JSON.parse(row.cohort) as Cohort };
}

/**
 * Removes from a cohort's outings the labels that are not kept. An outing that is left with nobody counts for nobody;
 * it is deleted where `deleteEmptied` says so.
 */
async function keepLabels(
  trx: Transaction<Tables>,
  cohortId: string,
  isKept: (label: string) => boolean,
  deleteEmptied: boolean,
): Promise<void> {
  const rows = await trx.selectFrom('outings').selectAll().where('cohortId', '=', cohortId).execute();
  for (const { id, outing: text } of rows) {
    const outing = JSON.parse(text) as Outing;
    if (outing.members === null || outing.members.every(isKept)) continue;
    const members = outing.members.filter(isKept);
    if (members.length === 0 && deleteEmptied) {
      await trx.deleteFrom('outings').where('id', '=', id).execute();
      continue;
    }
    await trx
      .updateTable('outings')
      .set({ outing: JSON.stringify({ ...outing, members }) })
      .where('id', '=', id)
      .execute();
  }
}

/**
 * Long because it is a list: one statement after another.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function cohortRepository({ db, nowMs, newId }: StoreContext): CohortRepository {
  return {
    add(cohort, outings) {
      return db.transaction().execute(async (trx) => {
        const atMs = await nextTimeMs(trx, 'cohorts', nowMs());
        const today = dayOf(nowMs());
        const row = {
          id: newId('co'),
          name: cohort.name,
          revision: 1,
          createdAtMs: atMs,
          updatedAtMs: atMs,
          lastTripDate: [today, ...outings.map(({ date }) => keptFrom(date, nowMs()))].sort().at(-1) ?? today,
          cohort: JSON.stringify(cohort),
        };
        await trx.insertInto('cohorts').values(row).execute();
        for (const outing of outings) {
          const createdAtMs = await nextTimeMs(trx, 'outings', nowMs());
          await trx
            .insertInto('outings')
            .values({ id: newId('ou'), cohortId: row.id, createdAtMs, outing: JSON.stringify(outing) })
            .execute();
        }
        return storedCohort(row);
      });
    },

    async get(id) {
      const row = await db.selectFrom('cohorts').selectAll().where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : storedCohort(row);
    },

    async list({ limit, after }) {
      let query = db.selectFrom('cohorts').selectAll().orderBy('createdAtMs').orderBy('id').limit(limit);
      if (after !== null) {
        query = query.where(({ eb, refTuple, tuple }) =>
          eb(refTuple('createdAtMs', 'id'), '>', tuple(after.createdAtMs, after.id)),
        );
      }
      return (await query.execute()).map(storedCohort);
    },

    replace(id, revision, cohort) {
      return db.transaction().execute(async (trx) => {
        const row = await trx
          .updateTable('cohorts')
          .set({
            name: cohort.name,
            cohort: JSON.stringify(cohort),
            revision: revision + 1,
            updatedAtMs: nowMs(),
          })
          .where('id', '=', id)
          .where('revision', '=', revision)
          .returningAll()
          .executeTakeFirst();
        if (row === undefined) return null;
        const labels = new Set(cohort.members ?? []);
        await keepLabels(trx, id, (label) => labels.has(label), false);
        return storedCohort(row);
      });
    },

    async noteTrip(id, date) {
      await db
        .updateTable('cohorts')
        .set({ lastTripDate: date })
        .where('id', '=', id)
        .where('lastTripDate', '<', date)
        .execute();
    },

    async deleteLastTripBefore(date) {
      // One statement: a day that is asked about meanwhile is seen or comes too late, never overlooked.
      const query = db.deleteFrom('cohorts').where('lastTripDate', '<', date);
      return Number((await query.executeTakeFirst()).numDeletedRows);
    },

    eraseMember(id, label) {
      return db.transaction().execute(async (trx) => {
        const row = await trx.selectFrom('cohorts').selectAll().where('id', '=', id).executeTakeFirst();
        if (row === undefined) return false;
        const cohort = JSON.parse(row.cohort) as Cohort;
        if (cohort.members?.includes(label) !== true) return false;
        const others = (labels: readonly string[]) => labels.filter((one) => one !== label);
        const left: Cohort = {
          ...cohort,
          members: others(cohort.members),
          ...(cohort.going == null ? {} : { going: others(cohort.going) }),
        };
        await trx
          .updateTable('cohorts')
          .set({ cohort: JSON.stringify(left), revision: row.revision + 1, updatedAtMs: nowMs() })
          .where('id', '=', id)
          .execute();
        await keepLabels(trx, id, (one) => one !== label, true);
        return true;
      });
    },

    async delete(id, revision) {
      let query = db.deleteFrom('cohorts').where('id', '=', id);
      if (revision !== null) query = query.where('revision', '=', revision);
      return (await query.executeTakeFirst()).numDeletedRows > 0n;
    },
  };
}
