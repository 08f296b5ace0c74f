import type { Selectable } from 'kysely';
import type { Outing } from '../capability/outing.ts';
import type { PlannedAgainstActual } from '../day/planned-against-actual.ts';
import type { Cohort } from './cohorts.ts';
import { nextTimeMs, type Page, type StoreContext } from './context.ts';
import { keptFrom } from './last-trip.ts';
import type { OutingTable } from './tables.ts';

/** An outing with what people tell of the day, and its plan beside it. Missing: nothing told, nothing compared. */
export interface KeptOuting extends Outing {
  /** Why the group turned back. Names nobody. */
  readonly turnedBecause?: string;
  /** What nearly went wrong. Names nobody. */
  readonly nearMisses?: readonly string[];
  /** The stored route that was planned, and how the day went against it: times at its checkpoints, no positions. */
  readonly planned?: PlannedAgainstActual & { readonly routeId: string };
}

/** An outing never changes: it is recorded once and may be deleted. */
export interface StoredOuting {
  readonly id: string;
  readonly cohortId: string;
  readonly createdAtMs: number;
  readonly outing: KeptOuting;
}

export interface OutingRepository {
  /** `null` where the cohort is gone. Labels that the cohort gave up meanwhile are not stored. */
  add(cohortId: string, outing: KeptOuting): Promise<StoredOuting | null>;
  get(cohortId: string, id: string): Promise<StoredOuting | null>;
  list(cohortId: string, page: Page): Promise<readonly StoredOuting[]>;
  all(cohortId: string): Promise<readonly StoredOuting[]>;
  delete(cohortId: string, id: string): Promise<boolean>;
}

function storedOuting(row: Selectable<OutingTable>): StoredOuting {
  const { id, cohortId, createdAtMs } = row;
  return { id, cohortId, createdAtMs, outing: JSON.parse(row.outing) as KeptOuting };
}

export function outingRepository({ db, nowMs, newId }: StoreContext): OutingRepository {
  const ofCohort = (cohortId: string) =>
    db.selectFrom('outings').selectAll().where('cohortId', '=', cohortId);
  return {
    add(cohortId, outing) {
      return db.transaction().execute(async (trx) => {
        const cohort = await trx
          .selectFrom('cohorts')
          .select('cohort')
          .where('id', '=', cohortId)
          .executeTakeFirst();
        if (cohort === undefined) return null;
        const createdAtMs = await nextTimeMs(trx, 'outings', nowMs());
        const labels = new Set((JSON.parse(cohort.cohort) as Cohort).members ?? []);
        const members = outing.members?.filter((label) => labels.has(label)) ?? null;
        const row = {
          id: newId('ou'),
          cohortId,
          createdAtMs,
          outing: JSON.stringify({ ...outing, members }),
        };
        await trx.insertInto('outings').values(row).execute();
        const lastTripDate = keptFrom(outing.date, nowMs());
        await trx
          .updateTable('cohorts')
          .set({ lastTripDate })
          .where('id', '=', cohortId)
          .where('lastTripDate', '<', lastTripDate)
          .execute();
        return storedOuting(row);
      });
    },

    async get(cohortId, id) {
      const row = await ofCohort(cohortId).where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : storedOuting(row);
    },

    async list(cohortId, { limit, after }) {
      let query = ofCohort(cohortId).orderBy('createdAtMs').orderBy('id').limit(limit);
      if (after !== null) {
        query = query.where(({ eb, refTuple, tuple }) =>
          eb(refTuple('createdAtMs', 'id'), '>', tuple(after.createdAtMs, after.id)),
        );
      }
      return (await query.execute()).map(storedOuting);
    },

    async all(cohortId) {
      const rows = await ofCohort(cohortId).orderBy('createdAtMs').orderBy('id').execute();
      return rows.map(storedOuting);
    },

    async delete(cohortId, id) {
      const query = db.deleteFrom('outings').where('cohortId', '=', cohortId).where('id', '=', id);
      return (await query.executeTakeFirst()).numDeletedRows > 0n;
    },
  };
}
