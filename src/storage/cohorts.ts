import type { Kysely, Selectable, Transaction } from 'kysely';
import type { Outing } from '../capability/outing.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import { deleteRow, inOrder, nextTimeMs, type Page, type StoreContext } from './context.ts';
import { dayOf, keptFrom } from './last-trip.ts';
import type { CohortTable, Tables } from './tables.ts';

/** A cohort as it is kept: its outings stand in their own table. */
export type Cohort = Omit<CohortInput, 'outings'>;

type CohortColumns = Readonly<Selectable<CohortTable>>;

export interface StoredCohort extends Omit<CohortColumns, 'name' | 'cohort'> {
  readonly cohort: Cohort;
}

const storedCohort = ({ name: _, cohort, ...row }: CohortColumns): StoredCohort => ({
  ...row,
  cohort: JSON.parse(cohort) as Cohort,
});

/** Takes note of a day that was asked about or walked, where it is later than the last one. */
export async function noteTrip(db: Kysely<Tables>, id: string, date: string): Promise<void> {
  const query = db.updateTable('cohorts').set({ lastTripDate: date });
  await query.where('id', '=', id).where('lastTripDate', '<', date).execute();
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
    const left = JSON.stringify({ ...outing, members });
    await trx.updateTable('outings').set({ outing: left }).where('id', '=', id).execute();
  }
}

export type CohortRepository = ReturnType<typeof cohortRepository>;

export function cohortRepository({ db, nowMs, newId }: StoreContext) {
  const cohorts = () => db.selectFrom('cohorts').selectAll();
  return {
    /** Stores a cohort and its first outings, all or nothing. */
    add(cohort: Cohort, outings: readonly Outing[]) {
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
          const values = { id: newId('ou'), cohortId: row.id, createdAtMs, outing: JSON.stringify(outing) };
          await trx.insertInto('outings').values(values).execute();
        }
        return storedCohort(row);
      });
    },

    async get(id: string) {
      const row = await cohorts().where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : storedCohort(row);
    },

    async list(page: Page) {
      return (await inOrder(cohorts(), page).execute()).map(storedCohort);
    },

    /**
     * `null` where the cohort is gone or has another revision by now. A label that the cohort no longer holds leaves
     * its outings too.
     */
    replace(id: string, revision: number, cohort: Cohort): Promise<StoredCohort | null> {
      return db.transaction().execute(async (trx) => {
        const change = { name: cohort.name, cohort: JSON.stringify(cohort), updatedAtMs: nowMs() };
        const query = trx.updateTable('cohorts').set({ ...change, revision: revision + 1 });
        const unchanged = query.where('id', '=', id).where('revision', '=', revision);
        const row = await unchanged.returningAll().executeTakeFirst();
        if (row === undefined) return null;
        const labels = new Set(cohort.members ?? []);
        await keepLabels(trx, id, (label) => labels.has(label), false);
        return storedCohort(row);
      });
    },

    noteTrip: (id: string, date: string) => noteTrip(db, id, date),

    /** Deletes the cohorts whose last day lies before this one, and their outings. Gives the number of cohorts. */
    async deleteLastTripBefore(date: string) {
      // One statement: a day that is asked about meanwhile is seen or comes too late, never overlooked.
      const query = db.deleteFrom('cohorts').where('lastTripDate', '<', date);
      return Number((await query.executeTakeFirst()).numDeletedRows);
    },

    /**
     * Removes a label from the cohort and from its outings; an outing with nobody else is deleted. False where the cohort
     * is gone or holds no such label.
     */
    eraseMember(id: string, label: string) {
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
        const change = { cohort: JSON.stringify(left), revision: row.revision + 1, updatedAtMs: nowMs() };
        await trx.updateTable('cohorts').set(change).where('id', '=', id).execute();
        await keepLabels(trx, id, (one) => one !== label, true);
        return true;
      });
    },

    delete: (id: string, revision: number | null) => deleteRow(db, 'cohorts', id, revision),
  };
}
